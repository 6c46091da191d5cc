import type { Planner } from '../../../recipe/planner/index.js';
import { CutLightError, SheetError } from '../../../records/again/given-passes.js';
import type { PrintedSheet } from '../../../records/again/printed-sheet.js';
import { type RecipeAgain, recipeAgain } from '../../../records/again/recipe-again.js';
import { sheetsBegun } from '../../../records/again/sheets-begun.js';
import type { ArchiveReader, KeptRecipe } from '../../../records/archive/archive.js';
import { type LogEntry, logEntries } from '../../../records/log/log-entry.js';
import { sheetNotes } from '../../../records/log/sheet-notes.js';
import { listOfAll } from './list-of-all.js';
import { filterOf, nightOfKey } from './night-key.js';
import type { NightKey } from './told.js';

/** A sheet of a night, and the recipe that it came to where it is a print. */
export interface SheetOfNight {
  readonly sheet: PrintedSheet;
  /** As the commands take it: '2027-03-05/7', or '7.2' for the second of that number. */
  readonly name: string;
  readonly again: RecipeAgain | undefined;
  readonly cut: CutLightError | undefined;
}

export interface WholeNight {
  readonly entries: readonly LogEntry[];
  readonly sheets: readonly SheetOfNight[];
}

/** All that was logged in a night, and its sheets in their order. */
export async function readNight(
  archive: ArchiveReader,
  planner: Planner,
  key: NightKey,
): Promise<WholeNight> {
  const filter = filterOf(key);
  const notes = await sheetNotes(archive, filter);
  const entries = await listOfAll(logEntries(archive.records(filter), notes));
  const sheets = await sheetsBegun(archive, entries);
  const kept = await recipesOf(archive, sheets);
  return {
    entries,
    sheets: sheets.map((sheet) => ({
      sheet,
      name: nameOf(sheet, sheets, key),
      ...madeOf(planner, sheet, kept),
    })),
  };
}

/** Of those that the sheets were printed by, and no others: an archive may have thousands. */
async function recipesOf(archive: ArchiveReader, sheets: readonly PrintedSheet[]): Promise<KeptRecipe[]> {
  const names = new Set(sheets.map(({ recipe }) => recipe));
  const kept: KeptRecipe[] = [];
  for (const name of names) if (name !== '') kept.push(...(await archive.recipes(name)));
  return kept;
}

/** The runs without a date are one list for the commands, so that a number in it may be another run's as well. */
function nameOf(sheet: PrintedSheet, all: readonly PrintedSheet[], key: NightKey): string {
  const alike = all.filter((one) => one.sheet === sheet.sheet);
  const nth = alike.length > 1 ? `.${alike.indexOf(sheet) + 1}` : '';
  return `${nightOfKey(key) ?? 'unknown'}/${sheet.sheet}${nth}`;
}

/** Nothing is made of light that a power cut ended before somebody says how much of it fell. */
function madeOf(
  planner: Planner,
  sheet: PrintedSheet,
  kept: readonly KeptRecipe[],
): Pick<SheetOfNight, 'again' | 'cut'> {
  try {
    return { again: recipeAgain(planner, sheet, kept), cut: undefined };
  } catch (error) {
    if (error instanceof CutLightError) return { again: undefined, cut: error };
    if (error instanceof SheetError) return { again: undefined, cut: undefined };
    throw error;
  }
}
