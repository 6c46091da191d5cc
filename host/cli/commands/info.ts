import type { Command } from 'commander';
import type { Board, Status } from '../../link/board.js';
import { laptopVersion } from '../../link/handshake.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, portOption } from '../options.js';
import { duration } from '../terminal/figures.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface InfoOptions extends BoardOptions {
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle info', 'treadle info --port /dev/ttyACM0'))
    .action((options: InfoOptions) =>
      withBoard(options, (board) => info(board, options), { acceptOtherVersion: true }),
    );
}

/** Of a board of another version only the hello can be read, which is what tells how to get out of it. */
async function info(board: Board, options: InfoOptions): Promise<void> {
  const status = board.mismatch ? undefined : await board.status();
  if (options.json) printJson(forScripts(board, status));
  else print(table([{ head: '' }, { head: '' }], rows(board, status)).trimStart());
  if (board.mismatch) throw board.mismatch;
}

function forScripts({ path, welcome, mismatch }: Board, status: Status | undefined): object {
  const { boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs } = welcome;
  const { type: _type, id: _id, ...stands } = status ?? { type: '', id: 0 };
  const board = { path, boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs, ...stands };
  return { ...board, laptop: laptopVersion, inStep: mismatch === undefined };
}

function rows({ path, welcome }: Board, status: Status | undefined): string[][] {
  const { boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs } = welcome;
  return [
    ['board', boardId],
    ['port', path],
    ['firmware', `${firmwareVersion} (protocol ${protocol}, schema ${schemaHash})`],
    [
      'laptop',
      `${laptopVersion.version} (protocol ${laptopVersion.protocol}, schema ${laptopVersion.schemaHash})`,
    ],
    ['up for', `${duration(uptimeMs)}, start number ${boot}`],
    ...(status ? statusRows(status) : []),
  ];
}

function statusRows(status: Status): string[][] {
  const { state, job, name, lensConfirmed, pedalStuck, oldestSeq, nextSeq, entriesLeft, recipes } = status;
  return [
    ['state', pedalStuck ? `${state}; the pedal is stuck: nothing exposes until it is let go` : state],
    ['next', job === 'recipe' ? `recipe ${name}` : job],
    ['lens', lensConfirmed ? 'confirmed as stopped down' : 'not confirmed'],
    ['recipes', `${recipes}`],
    ['log', `${nextSeq - oldestSeq} entries, room for ${entriesLeft} more`],
  ];
}
