import type { Command } from 'commander';
import type { Board, Status } from '../../board/link/board.js';
import { nameOf } from '../../board/link/find-boards.js';
import { laptopVersion } from '../../board/link/handshake.js';
import { jobWords, stateWords } from '../../board/words/state-words.js';
import { boardWords } from '../../board-words.js';
import { duration } from '../../figures.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface InfoOptions extends BoardOptions {
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle info', 'treadle info --port /dev/ttyACM0'))
    .action((options: InfoOptions) =>
      withBoard(options, (board) => info(board, options), { acceptOtherVersion: true }),
    );
}

/** Of a board of another version only the hello can be read, which is what tells how to get out of it. */
async function info(board: Board, options: InfoOptions): Promise<void> {
  const stands = board.mismatch ? undefined : await standing(board);
  if (options.json) printJson(forScripts(board, stands));
  else print(table([{ head: '' }, { head: '' }], rows(board, stands)).trimStart());
  if (board.mismatch) throw board.mismatch;
}

/** Where the board stands, and what it was told of the paper and the safelight. */
interface Standing extends Omit<Status, 'type' | 'id' | 'name'> {
  /** What the printer calls the board; empty for nothing. */
  readonly boardName: string;
  /** Of what the pedal starts next. */
  readonly name: string;
  /** -1: never tested. */
  readonly safeMinutes: number;
  readonly paper: 'resin-coated' | 'fibre';
  readonly sheetCm2: number;
}

async function standing(board: Board): Promise<Standing> {
  const { type: _type, id: _id, ...status } = await board.status();
  return {
    ...status,
    boardName: (await nameOf(board)) ?? '',
    safeMinutes: await board.getSetting('safe-minutes'),
    paper: (await board.getSetting('fibre-paper')) === 1 ? 'fibre' : 'resin-coated',
    sheetCm2: await board.getSetting('sheet-cm2'),
  };
}

function forScripts({ path, welcome, mismatch }: Board, stands: Standing | undefined): object {
  const { boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs } = welcome;
  const board = { path, boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs, ...stands };
  return { ...board, laptop: laptopVersion, inStep: mismatch === undefined };
}

function rows({ path, welcome }: Board, stands: Standing | undefined): string[][] {
  const { boardId, firmwareVersion, protocol, schemaHash, boot, uptimeMs } = welcome;
  return [
    ['board', boardWords(boardId, stands?.boardName)],
    ['port', path],
    ['firmware', `${firmwareVersion} (protocol ${protocol}, schema ${schemaHash})`],
    [
      'laptop',
      `${laptopVersion.version} (protocol ${laptopVersion.protocol}, schema ${laptopVersion.schemaHash})`,
    ],
    ['up for', `${duration(uptimeMs)}, start number ${boot}`],
    ...(stands ? standingRows(stands) : []),
  ];
}

function standingRows(stands: Standing): string[][] {
  const { state, job, name, lensConfirmed, pedalStuck, oldestSeq, nextSeq, entriesLeft, recipes } = stands;
  const { safeMinutes, paper, sheetCm2 } = stands;
  const words = stateWords[state];
  return [
    ['state', pedalStuck ? `${words}; the pedal is stuck: nothing is exposed until it is released` : words],
    ['next', name === '' ? jobWords[job] : `${jobWords[job]} ${name}`],
    ['lens', lensConfirmed ? 'confirmed as stopped down' : 'not confirmed'],
    ['recipes', `${recipes}`],
    ['paper', `${paper}, ${sheetCm2} cm2 a sheet`],
    ['safelight', safelightWords(safeMinutes)],
    ['log', `${nextSeq - oldestSeq} entries, room for ${entriesLeft} more`],
  ];
}

function safelightWords(safeMinutes: number): string {
  if (safeMinutes < 0)
    return 'not tested yet: choose the safelight test at the board to find how long paper may lie out';
  if (safeMinutes === 0)
    return 'not safe: even the shortest step of its test fogged; find out why before you print';
  return `paper may lie out for ${safeMinutes} min`;
}
