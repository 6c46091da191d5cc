import { type Command, Option } from 'commander';
import { boardWords, isCalled } from '../../board-words.js';
import type { ArchiveReader, RecordFilter, UndatedRun } from '../../records/archive/archive.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { nameOfNight, nightList, UNDATED } from '../log-views/night-list.js';
import type { View } from '../log-views/show-entries.js';
import { archiveOption, examples, forceOption, jsonOption } from '../options.js';
import { print, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';

/** The name of the latest night, for `--night`. */
const LAST = 'last';

interface NightsOptions {
  readonly night?: string;
  readonly date?: string;
  readonly board?: string;
  readonly csv?: true;
  readonly html?: string;
  readonly force?: true;
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .argument('[night]', 'with --date: the number of a night without a date')
    .option(
      '--night <date>',
      `one night from noon to noon: YYYY-MM-DD of its evening, '${LAST}', the number of one without a date, or '${UNDATED}' for all of those`,
    )
    .option(
      '--date <date>',
      `give a night without a date the date of its evening, or correct it; '${UNDATED}' takes it back`,
    )
    .option('--board <name>', 'one board only, by its name or id')
    .addOption(new Option('--csv', 'for a spreadsheet').conflicts('json'))
    .addOption(new Option('--html <file>', 'a page with a time line of the lamp').conflicts(['json', 'csv']))
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption('print each entry as a line of JSON, for scripts'))
    .addHelpText(
      'after',
      examples(
        'treadle nights',
        'treadle nights --night last',
        'treadle nights --csv > prints.csv',
        'treadle nights --night 2027-03-05 --html night.html',
        'treadle nights --date 2027-03-05 1',
      ),
    )
    .action(showNights);
}

async function showNights(number: string | undefined, options: NightsOptions): Promise<void> {
  if (options.date !== undefined) return await dateNight(number, options.date, options);
  if (number !== undefined)
    throw new UsageError(`[night]: '${number}' goes with --date; to see one night, write --night ${number}`);
  await using archive = await readArchive(options.archive);
  const board = await boardNamed(options.board, archive);
  const filter = options.night === undefined ? board : await nightNamed(options.night, archive, board);
  const view = viewOf(options);
  if (view === undefined) return await listNights(archive, board);
  const { showEntries } = await import('../log-views/show-entries.js');
  const count = await showEntries(archive, filter, view);
  if (typeof view === 'object') remark(`The page is in ${view.page}.`);
  if (count === 0) remark(await nothingThere(archive, board, filter.night));
}

/** @throws UsageError for a board that nothing was collected of, and for a name that two have. */
async function boardNamed(called: string | undefined, archive: ArchiveReader): Promise<RecordFilter> {
  if (called === undefined) return {};
  const names = await archive.boardNames();
  const boards = (await archive.boards()).map((boardId) => ({ boardId, name: names.get(boardId) ?? '' }));
  if (boards.length === 0) return { board: called };
  const [meant, other] = boards.filter((board) => isCalled(board, called));
  const listed = boards.map(({ boardId, name }) => boardWords(boardId, name)).join(', ');
  if (meant === undefined)
    throw new UsageError(`--board: ${archive.file} has nothing of board '${called}'; it has ${listed}`);
  if (other !== undefined)
    throw new UsageError(`--board: several boards are called '${called}'; give the id: ${listed}`);
  return { board: meant.boardId };
}

async function dateNight(number: string | undefined, date: string, options: NightsOptions): Promise<void> {
  if (number === undefined)
    throw new UsageError(
      "--date needs the number of the night as well, as 'treadle nights' lists it: --date 2027-03-05 1",
    );
  const night = date === UNDATED ? null : readDate('--date', date);
  const { openArchive } = await import('../../records/archive/file-archive.js');
  await using archive = await openArchive(options.archive);
  const run = await runNumbered('[night]', number, archive, await boardNamed(options.board, archive));
  await archive.dateByHand(run, night);
  remark(
    `Night ${run.number} (power-on ${run.boot} of board ${boardWords(run.board, (await archive.boardNames()).get(run.board))}) ${night === null ? 'has no date again' : `was the night of ${night}`}.`,
  );
}

/** @throws UsageError unless there is one run without a date of that number, or that was given one by hand. */
async function runNumbered(
  option: string,
  text: string,
  archive: ArchiveReader,
  board: RecordFilter,
): Promise<UndatedRun> {
  const runs: UndatedRun[] = [];
  for await (const { undated } of archive.nights(board)) runs.push(...undated);
  const [run, other] = runs.filter(({ number }) => `${number}` === text);
  if (run === undefined)
    throw new UsageError(
      `${option}: '${text}' is no night without a date; ${runs.length === 0 ? 'every night has one' : `there are ${runs.map(({ number }) => number).join(', ')}`}`,
    );
  if (other !== undefined)
    throw new UsageError(
      `${option}: boards ${run.board} and ${other.board} both have a night ${text} without a date; add --board`,
    );
  return run;
}

/** Undefined for the list of nights. */
function viewOf({ night, html, csv, json, force }: NightsOptions): View | undefined {
  if (html !== undefined) return { page: html, force: force === true };
  if (csv) return 'csv';
  if (json) return 'json';
  return night === undefined ? undefined : 'table';
}

/** @throws UsageError unless it is a day that there is, or a night without a date. */
async function nightNamed(text: string, archive: ArchiveReader, board: RecordFilter): Promise<RecordFilter> {
  if (text === UNDATED) return { ...board, night: null };
  if (text === LAST) return { ...board, night: (await archive.latestNight(board)) ?? null };
  if (/^\d{1,6}$/.test(text)) return { run: await runNumbered('--night', text, archive, board) };
  return { ...board, night: readDate('--night', text) };
}

function readDate(option: string, text: string): string {
  const date = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T12:00:00Z`) : new Date(Number.NaN);
  if (!Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)) return text;
  throw new UsageError(
    `${option}: '${text}' is no date; write it as 2027-03-05, or '${UNDATED}' for no date${option === '--night' ? `, or '${LAST}' for the latest` : ''}`,
  );
}

async function listNights(archive: ArchiveReader, board: RecordFilter): Promise<void> {
  const nights = [];
  for await (const night of archive.nights(board)) nights.push(night);
  if (nights.length === 0) remark(await nothingThere(archive, board));
  else print(nightList(nights, await archive.boardNames()));
}

async function nothingThere(
  archive: ArchiveReader,
  board: RecordFilter,
  asked?: string | null,
): Promise<string> {
  const nights: string[] = [];
  for await (const one of archive.nights(board)) nights.push(nameOfNight(one));
  return nights.length === 0
    ? `${archive.file} has no entries: 'treadle collect' fetches what the board logged.`
    : // Each time that a board is asked something, it logs the laptop's clock; no night has a line for that.
      typeof asked === 'string' && nights.includes(asked)
      ? 'That night a laptop talked to the board, and nothing was done at the enlarger.'
      : `Nothing was logged that night. There are entries of ${someOf(nights)}.`;
}

/** Lists for people end; the latest nights are what they look for. */
const MOST_NAMED = 12;

function someOf(nights: readonly string[]): string {
  const more = nights.length - MOST_NAMED;
  return more <= 0 ? nights.join(', ') : `${nights.slice(more).join(', ')}, and ${more} more`;
}
