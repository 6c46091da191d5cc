import { type Command, Option } from 'commander';
import type { ArchiveReader, RecordFilter } from '../../records/archive/archive.js';
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
  readonly board?: string;
  readonly csv?: true;
  readonly html?: string;
  readonly force?: true;
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .option(
      '--night <date>',
      `one night from noon to noon: YYYY-MM-DD of its evening, '${LAST}', or '${UNDATED}'`,
    )
    .option('--board <id>', 'one board only')
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
      ),
    )
    .action(showNights);
}

async function showNights(options: NightsOptions): Promise<void> {
  await using archive = await readArchive(options.archive);
  const board = options.board === undefined ? {} : { board: options.board };
  const night = options.night === undefined ? undefined : await nightNamed(options.night, archive, board);
  const view = viewOf(options, night);
  if (view === undefined) return await listNights(archive, board);
  const { showEntries } = await import('../log-views/show-entries.js');
  const count = await showEntries(archive, night === undefined ? board : { ...board, night }, view);
  if (typeof view === 'object') remark(`The page is in ${view.page}.`);
  if (count === 0) remark(await nothingThere(archive, board));
}

/** Undefined for the list of nights. */
function viewOf(
  { html, csv, json, force }: NightsOptions,
  night: string | null | undefined,
): View | undefined {
  if (html !== undefined) return { page: html, force: force === true };
  if (csv) return 'csv';
  if (json) return 'json';
  return night === undefined ? undefined : 'table';
}

/** @throws UsageError unless it is a day that there is. */
async function nightNamed(text: string, archive: ArchiveReader, board: RecordFilter): Promise<string | null> {
  if (text === UNDATED) return null;
  if (text === LAST) return (await archive.latestNight(board)) ?? null;
  const date = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T12:00:00Z`) : new Date(Number.NaN);
  if (!Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)) return text;
  throw new UsageError(
    `--night: '${text}' is no date; write it as 2027-03-05, or '${LAST}' for the latest, or '${UNDATED}' for what has no date`,
  );
}

async function listNights(archive: ArchiveReader, board: RecordFilter): Promise<void> {
  const nights = [];
  for await (const night of archive.nights(board)) nights.push(night);
  if (nights.length === 0) remark(await nothingThere(archive, board));
  else print(nightList(nights));
}

async function nothingThere(archive: ArchiveReader, board: RecordFilter): Promise<string> {
  const nights: string[] = [];
  for await (const one of archive.nights(board)) nights.push(nameOfNight(one));
  return nights.length === 0
    ? `${archive.file} has no entries: 'treadle collect' fetches what the board logged.`
    : `Nothing was logged that night. There are entries of ${someOf(nights)}.`;
}

/** Lists for people end; the latest nights are what they look for. */
const MOST_NAMED = 12;

function someOf(nights: readonly string[]): string {
  const more = nights.length - MOST_NAMED;
  return more <= 0 ? nights.join(', ') : `${nights.slice(more).join(', ')}, and ${more} more`;
}
