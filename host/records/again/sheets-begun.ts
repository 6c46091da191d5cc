import type { ArchivedRecord, ArchiveReader, SheetPlace } from '../archive/archive.js';
import { entryOf, type LogEntry } from '../log/log-entry.js';
import { keyOfSheet } from '../log/sheet-notes.js';
import { type PrintedSheet, SheetsOfLog } from './printed-sheet.js';

/**
 * The sheets that were begun in a night or a run, each whole: with the light that it got after noon, or after the power had
 * gone, and by a recipe as it had been turned on a night before.
 * @param entries all of that night or run, board by board in their order
 */
export async function sheetsBegun(
  archive: ArchiveReader,
  entries: AsyncIterable<LogEntry> | Iterable<LogEntry>,
): Promise<PrintedSheet[]> {
  const sheets = new SheetsOfLog();
  const begun = new Set<string>();
  let read: SheetPlace | undefined;
  for await (const entry of entries) {
    if (read !== undefined && !isNext(read, entry)) read = await readToItsEnd(archive, sheets, read, entry);
    if (read === undefined || !isNext(read, entry)) {
      sheets.passOver(entry.board);
      for (const mark of await marksOfRecipe(archive, entry, read)) noteRecord(sheets, mark);
    }
    sheets.note(entry);
    if (entry.kind === 'sheet') begun.add(keyOfSheet(entry));
    read = entry;
  }
  if (read !== undefined) await readToItsEnd(archive, sheets, read);
  return sheets.all.filter((sheet) => begun.has(keyOfSheet(sheet)));
}

/**
 * Goes on behind what was read as long as light may come to its last sheet, but not so far as `until`; says how far it went.
 * A sheet that was left or cut may be gone on with until another has light.
 */
async function readToItsEnd(
  archive: ArchiveReader,
  sheets: SheetsOfLog,
  read: SheetPlace,
  until?: SheetPlace,
): Promise<SheetPlace> {
  const lastOf = (isMeant: (sheet: PrintedSheet) => boolean) =>
    sheets.all.findLast((sheet) => sheet.board === read.board && isMeant(sheet));
  const isDone = () => {
    const latest = lastOf(() => true);
    return latest === undefined || latest.ending === 'complete';
  };
  const hasLaterLight = () => isBefore(read, lastOf(({ lights }) => lights.length > 0) ?? read);
  let last = read;
  if (isDone()) return last;
  for await (const record of archive.recordsAfter(read)) {
    if (until?.board === record.board && !isBefore(record, until)) break;
    noteRecord(sheets, record);
    last = record;
    if (isDone() || hasLaterLight()) break;
  }
  return last;
}

/**
 * What was noted of the recipe in use between one place and another, from where it was taken from the shelf: what was turned of
 * it then is still so on later nights.
 */
async function marksOfRecipe(
  archive: ArchiveReader,
  before: SheetPlace,
  after: SheetPlace | undefined,
): Promise<ArchivedRecord[]> {
  const marks: ArchivedRecord[] = [];
  let name: string | undefined;
  for await (const record of archive.recipeMarksBefore(before)) {
    if (record.log !== before.log || (after?.board === record.board && !isBefore(after, record))) break;
    const named = recipeOf(record);
    name ??= named;
    if (named !== undefined && named !== name) break;
    marks.push(record);
    if (record.type === 'recipe-taken') break;
  }
  return marks.reverse();
}

function recipeOf(record: ArchivedRecord): string | undefined {
  const entry = entryOf(record);
  switch (entry?.kind) {
    case 'recipe-change':
    case 'recipe-taken':
    case 'recipe-version':
      return entry.details.recipe;
    default:
      return undefined;
  }
}

function noteRecord(sheets: SheetsOfLog, record: ArchivedRecord): void {
  const entry = entryOf(record);
  if (entry !== undefined) sheets.note(entry);
}

/** Nothing of the board's log stands between them. */
function isNext(one: SheetPlace, other: SheetPlace): boolean {
  return one.board === other.board && one.log === other.log && one.seq + 1 === other.seq;
}

function isBefore(one: Omit<SheetPlace, 'board'>, other: Omit<SheetPlace, 'board'>): boolean {
  return (one.log - other.log || one.seq - other.seq || one.boot - other.boot) < 0;
}
