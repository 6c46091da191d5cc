import { type Command, Option } from 'commander';
import { Archive } from '../../records/archive/archive.js';
import { entriesOfNight, isExposure, type LogEntry, logEntries } from '../../records/log/log-entry.js';
import { csvOf } from '../log-views/csv.js';
import { nightsOf } from '../log-views/table.js';
import { archiveOption, examples, forceOption, jsonOption } from '../options.js';
import { print, printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { writeNewFile } from '../write-new-file.js';

interface LogOptions {
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
    .option('--night <date>', 'one night, as YYYY-MM-DD of its evening: from noon to noon')
    .option('--board <id>', 'one board only')
    .addOption(new Option('--csv', 'for a spreadsheet').conflicts('json'))
    .addOption(new Option('--html <file>', 'a page with a time line of the lamp').conflicts(['json', 'csv']))
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption('print each entry as a line of JSON, for scripts'))
    .addHelpText(
      'after',
      examples(
        'treadle nights --night 2027-03-05',
        'treadle nights --csv > prints.csv',
        'treadle nights --night 2027-03-05 --html night.html',
      ),
    )
    .action(showNights);
}

async function showNights(options: LogOptions): Promise<void> {
  const night = options.night === undefined ? undefined : nightNamed(options.night);
  using archive = await Archive.open(options.archive);
  const all = logEntries(archive.records(options.board === undefined ? {} : { board: options.board }));
  const entries = night === undefined ? all : entriesOfNight(all, night);
  if (options.html === undefined) show(entries, options);
  else await writePage(entries, night, options.html, options);
  if (entries.length === 0) remark(nothingThere(all, archive.file));
}

/** @throws UsageError unless it is a day that there is. */
function nightNamed(text: string): string {
  const date = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T12:00:00Z`) : new Date(Number.NaN);
  if (!Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)) return text;
  throw new UsageError(`--night: '${text}' is no date; write it as 2027-03-05`);
}

function show(entries: readonly LogEntry[], { csv, json }: LogOptions): void {
  if (csv) process.stdout.write(`${csvOf(entries)}\r\n`);
  else if (json) for (const entry of entries) printJson(entry);
  else if (entries.length > 0) print(nightsOf(entries));
}

async function writePage(
  entries: readonly LogEntry[],
  night: string | undefined,
  path: string,
  { force }: LogOptions,
): Promise<void> {
  const { nightPage } = await import('../../pages/night/night-page.js');
  const page = nightPage(entries.filter(isExposure), {
    events: entries,
    ...(night !== undefined && { night }),
  });
  await writeNewFile(path, page, force === true);
  remark(`The page is in ${path}.`);
}

function nothingThere(all: readonly LogEntry[], file: string): string {
  if (all.length === 0) return `${file} has no entries: 'treadle collect' fetches what the board logged.`;
  const nights = [...new Set(all.map(({ night }) => night))].filter((night) => night !== null);
  return `Nothing was logged that night. There are entries of ${nights.join(', ')}.`;
}
