import { existsSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { openBoard } from '../../board/link/open-board.js';
import { offerPort } from '../../board/sim/pty.js';
import { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { type EveningAccount, playEvening } from '../../evening/scripted-evening.js';
import { Stage, type Step } from '../../evening/stage.js';
import { counted, duration, seconds } from '../../figures.js';
import { makeFolder } from '../../files/make-folder.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { nightLines } from '../log-views/table.js';
import { namingOption } from '../naming-option.js';
import { examples, forceOption, jsonOption } from '../options.js';
import { print, printJson, printPieces, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile } from '../write-new-file.js';

interface EveningOptions {
  readonly pictures?: string;
  readonly force?: true;
  readonly json?: true;
}

/** In the terminal a picture takes this many columns, or fewer. */
const PICTURE_COLUMNS = 72;

export function define(command: Command): void {
  command
    .option('--pictures <folder>', 'folder for the pictures and the archive; by default a new temporary one')
    .addOption(forceOption('write over pictures that are there; the archive gets a new name'))
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle evening', 'treadle evening --pictures demo'))
    .action(evening);
}

/** The laptop's side is all real: the serial port, the archive's file. The board is simulated. */
async function evening(options: EveningOptions): Promise<void> {
  const place = await placeFor(options);
  const home = new SimulatedBoard();
  const port = await offerPort(home.plug());
  remark(`A simulated board is at ${port.path}; its clock runs faster than the laptop's.`);
  try {
    const stage = new Stage(home);
    const board = await stage.during(openBoard(port.path));
    await using archive = await openArchive(place.archive);
    const account = await playEvening(stage, board, archive);
    await board.close();
    await tell(account, place, options);
  } finally {
    port.close();
    home.close();
  }
}

interface Place {
  readonly folder: string;
  readonly archive: string;
}

/** Where everything goes, before anything is played: nobody's pictures or archive are lost for a demonstration. */
async function placeFor({ pictures: folder, force }: EveningOptions): Promise<Place> {
  if (folder === undefined) return placeIn(await mkdtemp(join(tmpdir(), 'treadle-evening-')));
  await namingOption('--pictures', () => makeFolder(folder));
  const { eveningFiles } = await import('../../evening/pictures.js');
  for (const name of eveningFiles) await checkNewFile(join(folder, name), force === true, '--pictures');
  if (!force && existsSync(archiveIn(folder, 1)))
    throw new UsageError(
      `--pictures: there is an archive in ${folder} already: name another folder, or add --force for a second one beside it`,
    );
  return placeIn(folder);
}

/** The evening's archive is always a new one. */
function placeIn(folder: string): Place {
  let number = 1;
  while (existsSync(archiveIn(folder, number))) number++;
  return { folder, archive: archiveIn(folder, number) };
}

function archiveIn(folder: string, number: number): string {
  return join(folder, number === 1 ? 'archive.sqlite' : `archive-${number}.sqlite`);
}

async function tell(account: EveningAccount, place: Place, { json, force }: EveningOptions): Promise<void> {
  const { writeEveningPictures } = await import('../../evening/pictures.js');
  const { pictures, scans } = await writeEveningPictures(account, place.folder, { over: force === true });
  if (json) {
    printJson({ ...account, pictures: pictures.map(({ title, path }) => ({ title, path })), scans });
    return;
  }
  print(`\nThe pedal and the lamp:\n${stepsTable(account)}`);
  print(`\n${counted(account.collected.added, 'record')} collected into ${place.archive}.`);
  print('');
  await printPieces(nightLines(account.entries[0]?.night ?? null, account.entries));
  for (const { title, path, picture } of pictures) {
    print(`\n${title}: ${path}`);
    await showSmall(picture);
  }
  print(
    `\nTo ask the strip's own paper what base was right, by scans of the strip and of the negative:\n  npx treadle read '${scans.strip}' --negative '${scans.negative}' --archive '${place.archive}'`,
  );
  print(
    `\nTo look back on it on a page, plan the next print and rehearse it:\n  npx treadle desk --archive '${place.archive}'`,
  );
}

function stepsTable({ before, strip, print: printed }: EveningAccount): string {
  const row = ({ atMs, foot, why, lampMs, prompt }: Step) => [
    duration(atMs),
    foot,
    why,
    lampMs.map(seconds).join(' + '),
    prompt,
  ];
  return table(
    [
      { head: 'time' },
      { head: 'pedal' },
      { head: 'for' },
      { head: 'lamp on', align: 'right' },
      { head: 'display' },
    ],
    [...before, ...strip.steps, ...printed.steps].map(row),
  );
}

async function showSmall(picture: Parameters<typeof import('../../darkroom/index.js').terminalPicture>[0]) {
  const { terminalColour, terminalPicture } = await import('../../darkroom/index.js');
  const colour = terminalColour({ isTTY: process.stdout.isTTY === true, env: process.env });
  if (!colour) return;
  const columns = Math.min(PICTURE_COLUMNS, process.stdout.columns ?? PICTURE_COLUMNS);
  for (const line of await terminalPicture(picture, columns, colour)) print(line);
}
