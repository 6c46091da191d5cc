import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { openBoard } from '../../board/link/open-board.js';
import { offerPort } from '../../board/sim/pty.js';
import { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { type EveningAccount, playEvening } from '../../evening/scripted-evening.js';
import { Stage, type Step } from '../../evening/stage.js';
import { counted, duration, seconds } from '../../figures.js';
import { Archive } from '../../records/archive/archive.js';
import { nightsOf } from '../log-views/table.js';
import { examples, jsonOption } from '../options.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface EveningOptions {
  readonly pictures?: string;
  readonly json?: true;
}

/** In the terminal a picture takes this many columns, or fewer. */
const PICTURE_COLUMNS = 72;

export function define(command: Command): void {
  command
    .option(
      '--pictures <folder>',
      'where the pictures and the archive go; a new folder for temporary files if left out',
    )
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle evening', 'treadle evening --pictures demo'))
    .action(evening);
}

/** The laptop's side is all real: the serial port, the archive's file. The board is simulated. */
async function evening(options: EveningOptions): Promise<void> {
  const folder = options.pictures ?? mkdtempSync(join(tmpdir(), 'treadle-evening-'));
  const home = new SimulatedBoard();
  const port = await offerPort(home.plug());
  remark(`A simulated board listens at ${port.path}; its clock runs ahead of the laptop's.`);
  try {
    const stage = new Stage(home);
    const board = await stage.during(openBoard(port.path));
    using archive = await Archive.open(join(folder, 'archive.sqlite'));
    const account = await playEvening(stage, board, archive);
    await board.close();
    await tell(account, folder, options);
  } finally {
    port.close();
    home.close();
  }
}

async function tell(account: EveningAccount, folder: string, { json }: EveningOptions): Promise<void> {
  const { writeEveningPictures } = await import('../../evening/pictures.js');
  const pictures = await writeEveningPictures(account, folder);
  if (json) {
    printJson({ ...account, pictures: pictures.map(({ title, path }) => ({ title, path })) });
    return;
  }
  print(`\nWhat the foot did, and the lamp:\n${stepsTable(account)}`);
  print(`\n${counted(account.pulled.added, 'record')} pulled into ${join(folder, 'archive.sqlite')}.`);
  print(`\n${nightsOf(account.entries)}`);
  for (const { title, path, picture } of pictures) {
    print(`\n${title}: ${path}`);
    await showSmall(picture);
  }
}

function stepsTable({ before, strip, print: printed }: EveningAccount): string {
  const row = ({ atMs, foot, why, lampMs, promise }: Step) => [
    duration(atMs),
    foot,
    why,
    lampMs.map(seconds).join(' + '),
    promise,
  ];
  return table(
    [
      { head: 'time' },
      { head: 'foot' },
      { head: 'for' },
      { head: 'lamp on', align: 'right' },
      { head: 'the display then says' },
    ],
    [...before, ...strip.steps, ...printed.steps].map(row),
  );
}

async function showSmall(
  picture: Parameters<typeof import('../../darkroom/picture/terminal-picture.js').terminalPicture>[0],
) {
  const { terminalColour, terminalPicture } = await import('../../darkroom/picture/terminal-picture.js');
  const colour = terminalColour({ isTTY: process.stdout.isTTY === true, env: process.env });
  if (!colour) return;
  const columns = Math.min(PICTURE_COLUMNS, process.stdout.columns ?? PICTURE_COLUMNS);
  for (const line of await terminalPicture(picture, columns, colour)) print(line);
}
