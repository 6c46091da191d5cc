import { dirname } from 'node:path';
import LibsqlDatabase from 'libsql';
import type { Board } from '../../../../host/board/link/board.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { Flash } from '../../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { readingArchive } from '../../../../host/desk/server/archive-at-desk.js';
import { listNights } from '../../../../host/desk/server/nights/list-nights.js';
import { nightsRoom } from '../../../../host/desk/server/nights/nights-room.js';
import { printsRoom } from '../../../../host/desk/server/prints/prints-room.js';
import type { Ways } from '../../../../host/desk/server/way.js';
import { sheetNamed } from '../../../../host/records/again/sheet-name.js';
import { stripInLog } from '../../../../host/records/again/strip-in-log.js';
import type { Archive } from '../../../../host/records/archive/archive.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { nightOf } from '../../../../host/records/log/night.js';
import { collectEverything } from '../../../../host/records/recipes/collect-everything.js';
import { sendRecipe } from '../../../../host/records/recipes/send-recipe.js';
import { filledFlash } from '../log-over-noise.js';
import { BOARD, LOG, NIGHT_ENTRIES, nightStartMs, recipeName, type Size } from './grown-archive.js';
import { boathouse } from './night-of-prints.js';

/** What a person waits for: a command as a process of its own, or, with a board or of the desk, work in this one. */
export type Work =
  | { readonly what: string; readonly words: readonly string[] }
  | { readonly what: string; readonly run: (file: string, size: Size) => Promise<unknown> };

const NEW_ENTRIES = 100;

export const works = (output: string): readonly Work[] => [
  { what: 'start alone (help)', words: ['nights', '--help'] },
  { what: 'nights', words: ['nights'] },
  { what: 'nights --board', words: ['nights', '--board', 'garage'] },
  { what: 'nights --night last', words: ['nights', '--night', 'last'] },
  { what: 'nights --night last --csv', words: ['nights', '--night', 'last', '--csv'] },
  { what: 'nights --night last --html', words: ['nights', '--night', 'last', '--html', output, '--force'] },
  { what: 'nights --csv, everything', words: ['nights', '--csv'] },
  { what: 'again last', words: ['again', 'last'] },
  { what: 'compare two sheets', words: ['compare', 'last/20', 'last/21'] },
  { what: 'remark on a sheet', words: ['remark', 'last', 'dry', '--rating', '4'] },
  { what: 'remark on a recipe', words: ['remark', recipeName(0), 'dry'] },
  { what: 'recipes --archive', words: ['recipes', '--archive'] },
  { what: 'recipes --archive --negative', words: ['recipes', '--archive', '--negative', 'no such'] },
  {
    what: 'read: the strip in the log',
    run: (file) => readingArchive(file, (one) => stripInLog(one, 'last')),
  },
  { what: `collect ${NEW_ENTRIES} new entries`, run: collectNew },
  { what: 'send a recipe (so dry-down --send)', run: sendOne },
  { what: 'desk: list of nights', run: (file) => readingArchive(file, listNights) },
  { what: 'desk: one night', run: (file, size) => askOfNight(file, '/api/night', size) },
  { what: 'desk: page of a night', run: (file, size) => askOfNight(file, '/api/night/page', size) },
  { what: 'desk: map of a sheet', run: mapOfSheet },
  {
    what: 'desk: list of prints',
    run: (file) => ask(printsRoom({ archive: file, folder: dirname(file) }), '/api/prints'),
  },
];

/** A board whose log is all new, at the other end of a line that takes no time. */
async function withBoard<Result>(
  file: string,
  work: (archive: Archive, board: Board) => Promise<Result>,
): Promise<Result> {
  const flash = new Flash();
  flash.load(await newEntries());
  const board = new SimulatedBoard({ flash, speed: 1, boardId: BOARD });
  const laptop = await openBoard(board.plug());
  await using archive = await openArchive(file);
  try {
    return await work(archive, laptop);
  } finally {
    await laptop.close();
    board.close();
  }
}

let image: Promise<Uint8Array> | undefined;

function newEntries(): Promise<Uint8Array> {
  image ??= filledFlash(NEW_ENTRIES);
  return image;
}

async function collectNew(file: string): Promise<void> {
  await withBoard(file, async (archive, board) => {
    const { report } = await collectEverything(archive, board, () => {});
    if (report.added < NEW_ENTRIES) throw new Error(`${report.added} of ${NEW_ENTRIES} entries were new`);
  });
  forgetAgain(file);
}

/** So that the next time they are new again. */
function forgetAgain(file: string): void {
  const database = new LibsqlDatabase(file);
  database.exec(`DELETE FROM record WHERE board = '${BOARD}' AND log > ${LOG}`);
  database.close();
}

function sendOne(file: string): Promise<unknown> {
  const recipe = { ...boathouse, name: recipeName(1), baseMs: boathouse.baseMs + 10 };
  return withBoard(file, (archive, board) => sendRecipe(archive, board, recipe));
}

async function ask(ways: Ways, path: string, query: Record<string, string> = {}): Promise<unknown> {
  const way = ways[path]!.GET!;
  return await way.answer({
    body: new Uint8Array(),
    query: new URLSearchParams(query),
    gone: new AbortController().signal,
  });
}

const lastNight = ({ entries }: Size) => nightOf(nightStartMs(entries / NIGHT_ENTRIES - 1));

function askOfNight(file: string, path: string, size: Size): Promise<unknown> {
  return ask(nightsRoom(file), path, { night: lastNight(size) });
}

async function mapOfSheet(file: string, size: Size): Promise<unknown> {
  const { board, log, boot, seq } = await readingArchive(file, (one) => sheetNamed(one, 'last'));
  const place = { board, log: `${log}`, boot: `${boot}`, seq: `${seq}` };
  return await ask(nightsRoom(file), '/api/sheet/map', { night: lastNight(size), ...place });
}
