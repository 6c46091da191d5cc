import { InputError } from '../../errors.js';
import type { ArchiveReader } from '../archive/archive.js';
import { logEntries } from '../log/log-entry.js';
import { sheetNotes } from '../log/sheet-notes.js';
import type { PrintedSheet } from './printed-sheet.js';
import { sheetsBegun } from './sheets-begun.js';

/** The sheet that is meant, or what is there instead. */
export class SheetNameError extends InputError {
  override readonly name = 'SheetNameError';
}

/** What has no date is named by this word in place of one. */
const UNDATED = 'unknown';
const NAME = /^(?:(?<night>\d{4}-\d{2}-\d{2}|unknown|last)\/)?(?<sheet>last|\d{1,5})(?:\.(?<nth>\d{1,3}))?$/;

/** Whether a text is written as the name of a sheet is. */
export function isSheetName(text: string): boolean {
  return NAME.test(text.trim());
}

/**
 * Finds a sheet by the night and the number that the list of a night shows: '2027-03-05/7', or '7' of the latest night, or
 * 'last'. A board counts from 1 again each time it is switched on: of several of one night, '7.2' is the second.
 * @throws SheetNameError
 */
export async function sheetNamed(archive: ArchiveReader, name: string): Promise<PrintedSheet> {
  const parts = NAME.exec(name.trim())?.groups;
  if (parts === undefined)
    throw new SheetNameError(
      `'${name}' names no sheet: write 2027-03-05/7 for sheet 7 of that night, 7 for the latest night's, or last`,
    );
  const night = await nightMeant(archive, parts.night);
  const notes = await sheetNotes(archive, { night });
  const sheets = await sheetsBegun(archive, logEntries(archive.records({ night }), notes));
  if (parts.sheet === 'last') return lastPrint(sheets, night);
  const alike = sheets.filter(({ sheet }) => sheet === Number(parts.sheet));
  return oneOf(alike, parts.sheet!, parts.nth, sheets, night);
}

async function nightMeant(archive: ArchiveReader, night: string | undefined): Promise<string | null> {
  if (night === UNDATED) return null;
  if (night !== undefined && night !== 'last') return night;
  return (await archive.latestNight()) ?? null;
}

const whereNights = "'treadle nights' lists the nights, 'treadle collect' brings in what a board has logged";

function inNight(night: string | null): string {
  return night === null ? 'among the nights without a date' : `in the night of ${night}`;
}

function lastPrint(sheets: readonly PrintedSheet[], night: string | null): PrintedSheet {
  const last = sheets.findLast(({ job }) => job === 'recipe' || job === 'plain');
  if (last === undefined) throw new SheetNameError(`no print was made ${inNight(night)}: ${whereNights}`);
  return last;
}

function oneOf(
  alike: readonly PrintedSheet[],
  number: string,
  nth: string | undefined,
  all: readonly PrintedSheet[],
  night: string | null,
): PrintedSheet {
  const of = inNight(night);
  if (alike.length === 0) {
    const there = [...new Set(all.map(({ sheet }) => sheet))].sort((one, other) => one - other);
    const known = there.length === 0 ? `, nor any other: ${whereNights}` : `, but ${there.join(', ')}`;
    throw new SheetNameError(`there is no sheet ${number} ${of}${known}`);
  }
  if (nth === undefined && alike.length > 1)
    throw new SheetNameError(
      `the board was switched on more than once ${of}, and ${alike.length} sheets are number ${number}: ` +
        alike.map((sheet, at) => `${number}.${at + 1} is ${sheetWords(sheet)}`).join('; '),
    );
  const one = alike[Number(nth ?? 1) - 1];
  if (one === undefined)
    throw new SheetNameError(`${alike.length} sheets are number ${number} ${of}, not ${nth}`);
  return one;
}

function sheetWords({ job, recipe, version, at }: PrintedSheet): string {
  const what = job === 'recipe' ? `${recipe}, version ${version}` : job;
  return at === null ? what : `${what}, at ${at.slice(11, 16)} UTC`;
}
