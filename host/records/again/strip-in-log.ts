import type { ArchiveReader } from '../archive/archive.js';
import { logEntries } from '../log/log-entry.js';
import { nightBefore } from '../log/night.js';
import { sheetNotes } from '../log/sheet-notes.js';
import { jobWords } from './job-words.js';
import type { PrintedSheet } from './printed-sheet.js';
import { SheetNameError, sheetNamed } from './sheet-name.js';
import { sheetsBegun } from './sheets-begun.js';

/** A strip as the log has it. */
export interface StripInLog {
  readonly sheet: number;
  readonly night: string | null;
  /** All the light that each patch had, lightest first. */
  readonly dosesMs: readonly number[];
  readonly filter: string;
  /** The time that the printer took for right in the dark; undefined where nothing was chosen. */
  readonly chosenMs: number | undefined;
}

/** The strip of a sheet's name, or the last of the latest night. @throws SheetNameError */
export async function stripInLog(archive: ArchiveReader, name: string): Promise<StripInLog> {
  const sheet = name === 'last' ? await lastStrip(archive) : await sheetNamed(archive, name);
  if (sheet.job !== 'strip')
    throw new SheetNameError(
      `sheet ${sheet.sheet} was ${jobWords[sheet.job]}, not a test strip: 'treadle nights --night last' lists the sheets`,
    );
  return {
    sheet: sheet.sheet,
    night: sheet.night,
    dosesMs: dosesOf(sheet),
    filter: sheet.lights[0]?.filter ?? '',
    chosenMs: await chosenOn(archive, sheet),
  };
}

/** Which one it is, in words. */
export function stripWords({ sheet, night }: Pick<StripInLog, 'sheet' | 'night'>): string {
  return `sheet ${sheet} of ${night ?? 'a night without a date'}`;
}

/** Of the latest night or, since an evening may go on past noon, of the one before it. */
async function lastStrip(archive: ArchiveReader): Promise<PrintedSheet> {
  const latest = (await archive.latestNight()) ?? null;
  for (const night of latest === null ? [latest] : [latest, nightBefore(latest)]) {
    const notes = await sheetNotes(archive, { night });
    const sheets = await sheetsBegun(archive, logEntries(archive.records({ night }), notes));
    const last = sheets.findLast(({ job, lights }) => job === 'strip' && lights.length > 0);
    if (last !== undefined) return last;
  }
  throw new SheetNameError(
    'no strip was exposed in the latest night or the one before: name its sheet with --sheet, or tell the strip by --first, --step and --patches',
  );
}

/** Covered one by one, a patch has its own light and all of before; a stretch that was given in two counts once more. */
function dosesOf({ lights, cover, patches, ...sheet }: PrintedSheet): number[] {
  const own = new Array<number>(Math.max(0, patches)).fill(0);
  for (const { kind, patch, doseMs } of lights)
    if (kind === 'strip' && patch >= 1 && patch <= patches) own[patch - 1]! += doseMs;
  let all = 0;
  const doses = own.map((doseMs) => {
    all += doseMs;
    return cover === 'cumulative' ? all : doseMs;
  });
  if (own.every((doseMs) => doseMs > 0)) return doses;
  throw new SheetNameError(
    `the strip on ${stripWords(sheet)} was not exposed to its end: name another with --sheet, or tell what it had by --first, --step and --patches`,
  );
}

async function chosenOn(archive: ArchiveReader, sheet: PrintedSheet): Promise<number | undefined> {
  let chosenMs: number | undefined;
  for await (const entry of logEntries(archive.records({ run: sheet })))
    if (
      entry.kind === 'strip-reading' &&
      entry.board === sheet.board &&
      entry.log === sheet.log &&
      entry.boot === sheet.boot &&
      entry.details.sheet === sheet.sheet &&
      entry.details.doseMs > 0
    )
      chosenMs = entry.details.doseMs;
  return chosenMs;
}
