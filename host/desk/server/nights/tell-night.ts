import { isSheetMark, nightRows, nightTotals } from '../../../pages/night/night-rows.js';
import { totalsText } from '../../../pages/night/totals-words.js';
import { writeRecipe } from '../../../recipe/index.js';
import { loadPlanner, type Planner } from '../../../recipe/planner/index.js';
import { passWords } from '../../../recipe/recipe-differences.js';
import { printChanges } from '../../../records/again/print-changes.js';
import type { ArchiveReader } from '../../../records/archive/archive.js';
import { eventWords, isBathOrTestResult } from '../../../records/log/event-words.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../../records/log/log-entry.js';
import { filterOf } from './night-key.js';
import { readNight, type SheetOfNight } from './sheets-of-night.js';
import type { LightTold, NightKey, NightTold, SheetTold } from './told.js';

/** A night as the page shows it. */
export async function tellNight(archive: ArchiveReader, key: NightKey): Promise<NightTold> {
  const planner = loadPlanner();
  const { entries, sheets } = await readNight(archive, planner, key);
  const before = await printsBefore(archive, planner, key, sheets);
  const ends = endsOf(entries);
  return {
    key,
    totals: totalsText(
      nightTotals(nightRows(entries.filter((entry) => isExposure(entry) || isSheetMark(entry)))),
    ),
    sheets: sheets.map((one) => {
      const told = tellSheet(one, key, ends(one), sinceOf(planner, one, before.get(one.sheet.recipe)));
      if (one.again !== undefined) before.set(one.sheet.recipe, one);
      return told;
    }),
    events: entries.filter(isBathOrTestResult).map((entry) => ({ at: entry.at, words: eventWords(entry) })),
  };
}

/** Of each recipe the last print of the night before in which there was one. */
async function printsBefore(
  archive: ArchiveReader,
  planner: Planner,
  key: NightKey,
  sheets: readonly SheetOfNight[],
): Promise<Map<string, SheetOfNight>> {
  const found = new Map<string, SheetOfNight>();
  for (const recipe of new Set(sheets.map(({ sheet }) => sheet.recipe))) {
    const night = recipe === '' ? undefined : await nightBefore(archive, recipe, key);
    if (night === undefined) continue;
    const last = (await readNight(archive, planner, night)).sheets.findLast(
      (one) => one.sheet.recipe === recipe && one.again !== undefined,
    );
    if (last !== undefined) found.set(recipe, last);
  }
  return found;
}

async function nightBefore(
  archive: ArchiveReader,
  recipe: string,
  key: NightKey,
): Promise<NightKey | undefined> {
  const nights = await archive.nightsOf(recipe);
  const at = nights.findIndex((one) => JSON.stringify(one) === JSON.stringify(filterOf(key)));
  return at < 0 ? undefined : (nights[at + 1] as NightKey | undefined);
}

function sinceOf(
  planner: Planner,
  { again }: SheetOfNight,
  before: SheetOfNight | undefined,
): SheetTold['since'] {
  if (again === undefined || before?.again === undefined) return undefined;
  const changes = printChanges(planner, before.again.recipe, again.recipe);
  return { name: before.name, changes: changes.filter(({ stops100 }) => stops100 !== 0) };
}

function tellSheet(
  { sheet, name, again, cut }: SheetOfNight,
  key: NightKey,
  lacking: string,
  since: SheetTold['since'],
): SheetTold {
  const { board, log, boot, seq, sheet: number, at, recipe, version, job, remarks, lights } = sheet;
  return {
    place: { board, log, boot, seq },
    ...{ key, name, sheet: number, at, recipe, version, remarks, lacking },
    what: eventWords({ ...sheet, kind: 'sheet', details: sheet, uptimeMs: 0 }).replace(/^sheet \d+: /, ''),
    title: again?.recipe.title ?? recipe,
    negative: again?.recipe.negative ?? '',
    isPrint: job === 'recipe' || job === 'plain',
    isStrip: job === 'strip',
    lights: lights.map(tellLight),
    differences: again?.differences ?? [],
    unknown: again?.unknown ?? [],
    given: again === undefined ? '' : writeRecipe(again.recipe),
    ...(cut !== undefined && { cut: { what: cut.what, plannedMs: cut.plannedMs } }),
    ...(since !== undefined && { since }),
  };
}

function tellLight(light: ExposureEntry): LightTold {
  const { kind, patch, label, filter, plannedMs, doseMs, outcome } = light;
  const what =
    kind === 'base' || kind === 'burn' ? passWords({ kind, label }) : patch > 0 ? `patch ${patch}` : kind;
  return { what, filter, plannedMs, givenMs: doseMs, outcome };
}

/** Why a sheet is no whole print, as the log has it; empty where it is, or where nothing says. */
function endsOf(entries: readonly LogEntry[]): (one: SheetOfNight) => string {
  const words = new Map<string, string>();
  const keyOf = (one: { board: string; log: number; boot: number }, sheet: number) =>
    JSON.stringify([one.board, one.log, one.boot, sheet]);
  for (const entry of entries) {
    if (isExposure(entry) || !isSheetMark(entry)) continue;
    const sheet = keyOf(entry, entry.details.sheet);
    if (entry.kind === 'sheet-ended')
      words.set(sheet, entry.details.outcome === 'complete' ? '' : 'It was given up.');
    else if (entry.endedByPower) words.set(sheet, 'The power went before it was finished.');
  }
  return ({ sheet }) => words.get(keyOf(sheet, sheet.sheet)) ?? '';
}
