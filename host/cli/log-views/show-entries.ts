import { counted } from '../../figures.js';
import { jsonText } from '../../json-text.js';
import type { ArchiveReader, RecordFilter } from '../../records/archive/archive.js';
import { entryPages, isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { sheetNotes } from '../../records/log/sheet-notes.js';
import { printPieces } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';
import { csvLines } from './csv.js';
import { nightLines } from './table.js';

/** How entries are shown; a page is a file of that name. */
export type View = 'table' | 'csv' | 'json' | { readonly page: string; readonly force: boolean };

/** Lights are drawn one by one, and nobody looks at more of them; a night has some hundreds. */
const MOST_ON_PAGE = 20_000;

/** Shows what is logged, as it is read; tells how many entries there were. */
export async function showEntries(archive: ArchiveReader, filter: RecordFilter, view: View): Promise<number> {
  const names = await archive.boardNames();
  const notes = await sheetNotes(archive, filter);
  const entries = new Counted(entryPages(archive.recordPages(filter), notes));
  if (view === 'csv') await printPieces(csvLines(entries, names));
  else if (view === 'json') await printPieces(jsonLines(entries, names));
  else if (view === 'table') await printPieces(nightLines(filter.night ?? null, singly(entries)));
  else await writePage(entries, filter.night, view);
  return entries.count;
}

/** Pages as they go by, and how many entries they had. */
class Counted implements AsyncIterable<readonly LogEntry[]> {
  count = 0;
  readonly #pages: AsyncIterable<readonly LogEntry[]>;

  constructor(pages: AsyncIterable<readonly LogEntry[]>) {
    this.#pages = pages;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<readonly LogEntry[]> {
    for await (const page of this.#pages) {
      this.count += page.length;
      yield page;
    }
  }
}

async function* singly(pages: AsyncIterable<readonly LogEntry[]>): AsyncGenerator<LogEntry> {
  for await (const page of pages) yield* page;
}

async function* jsonLines(
  pages: AsyncIterable<readonly LogEntry[]>,
  names: ReadonlyMap<string, string>,
): AsyncGenerator<string> {
  const named = (entry: LogEntry) => {
    const boardName = names.get(entry.board);
    return boardName === undefined ? entry : { ...entry, boardName };
  };
  for await (const page of pages) yield page.map((entry) => `${jsonText(named(entry))}\n`).join('');
}

async function writePage(
  pages: AsyncIterable<readonly LogEntry[]>,
  night: string | null | undefined,
  { page: path, force }: Exclude<View, string>,
): Promise<void> {
  await checkNewFile(path, force, '--html');
  const entries = await fewOf(pages);
  const { nightPage } = await import('../../pages/night/night-page.js');
  const page = nightPage(entries.filter(isExposure), {
    events: entries,
    ...(typeof night === 'string' && { night }),
  });
  await writeNewFile(path, page, force, '--html');
}

/** @throws UsageError where there are more than a page has room for. */
async function fewOf(pages: AsyncIterable<readonly LogEntry[]>): Promise<LogEntry[]> {
  const entries: LogEntry[] = [];
  for await (const page of pages) {
    entries.push(...page);
    if (entries.length > MOST_ON_PAGE)
      throw new UsageError(
        `--html: a page has room for ${counted(MOST_ON_PAGE, 'entry', 'entries')}, and here are more: name one night, or take --csv`,
      );
  }
  return entries;
}
