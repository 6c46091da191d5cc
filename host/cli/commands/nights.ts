import { type Command, Option } from 'commander';
import { jsonText } from '../../json-text.js';
import type { ArchiveReader, RecordFilter } from '../../records/archive/archive.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { isExposure, type LogEntry, logEntries } from '../../records/log/log-entry.js';
import { csvLines } from '../log-views/csv.js';
import { nightList, UNDATED } from '../log-views/night-list.js';
import { nightLines } from '../log-views/table.js';
import { archiveOption, examples, forceOption, jsonOption } from '../options.js';
import { print, printPieces, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

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
  const filter = night === undefined ? board : { ...board, night };
  const entries = new Counted(logEntries(archive.records(filter)));
  if (options.html !== undefined) await writePage(entries, night, options.html, options);
  else if (options.csv) await printPieces(csvLines(entries));
  else if (options.json) await printPieces(jsonLines(entries));
  else if (night === undefined) return await listNights(archive, board);
  else await printPieces(nightLines(night, entries));
  if (entries.count === 0) remark(await nothingThere(archive, board));
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

async function* jsonLines(entries: AsyncIterable<LogEntry>): AsyncGenerator<string> {
  for await (const entry of entries) yield `${jsonText(entry)}\n`;
}

/** Entries as they go by, and how many did. */
class Counted implements AsyncIterable<LogEntry> {
  count = 0;
  readonly #entries: AsyncIterable<LogEntry>;

  constructor(entries: AsyncIterable<LogEntry>) {
    this.#entries = entries;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<LogEntry> {
    for await (const entry of this.#entries) {
      this.count++;
      yield entry;
    }
  }
}

async function writePage(
  entries: AsyncIterable<LogEntry>,
  night: string | null | undefined,
  path: string,
  { force }: NightsOptions,
): Promise<void> {
  await checkNewFile(path, force === true, '--html');
  const all: LogEntry[] = [];
  for await (const entry of entries) all.push(entry);
  const { nightPage } = await import('../../pages/night/night-page.js');
  const page = nightPage(all.filter(isExposure), {
    events: all,
    ...(typeof night === 'string' && { night }),
  });
  await writeNewFile(path, page, force === true, '--html');
  remark(`The page is in ${path}.`);
}

async function nothingThere(archive: ArchiveReader, board: RecordFilter): Promise<string> {
  const nights = await datedNights(archive, board);
  return nights.length === 0
    ? `${archive.file} has no entries: 'treadle collect' fetches what the board logged.`
    : `Nothing was logged that night. There are entries of ${nights.join(', ')}.`;
}

async function datedNights(archive: ArchiveReader, board: RecordFilter): Promise<string[]> {
  const nights: string[] = [];
  for await (const { night } of archive.nights(board)) if (night !== null) nights.push(night);
  return nights;
}
