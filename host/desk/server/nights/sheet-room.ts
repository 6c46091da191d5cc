import { stoppedDownAperture10 } from '../../../darkroom/optics/stopped-down.js';
import { printingMapSvg } from '../../../pages/map/printing-map.js';
import { nightPageBody } from '../../../pages/night/night-page.js';
import { writeRecipe } from '../../../recipe/index.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import type { Recipe } from '../../../recipe/recipe.js';
import { againAsVersion } from '../../../records/again/again-as-version.js';
import { printChanges } from '../../../records/again/print-changes.js';
import { type RecipeAgain, recipeAgain } from '../../../records/again/recipe-again.js';
import type { ArchiveReader } from '../../../records/archive/archive.js';
import { isExposure } from '../../../records/log/log-entry.js';
import { readingArchive } from '../archive-at-desk.js';
import { json, type Way, type Ways } from '../way.js';
import { nightAsked, nightOfKey } from './night-key.js';
import { sheetAt } from './sheet-at.js';
import { readNight, type SheetOfNight } from './sheets-of-night.js';
import type { AgainTold, ComparedTold } from './told.js';

/** What is made of single sheets: the recipe again, the map to print, two beside each other, and the page of a night. */
export function sheetRoom(archive: string | undefined): Ways {
  const way = (
    tell: (archive: ArchiveReader, query: URLSearchParams) => Promise<unknown>,
  ): Record<'GET', Way> => ({
    GET: { answer: async ({ query }) => json(await readingArchive(archive, (one) => tell(one, query))) },
  });
  return {
    '/api/sheet/again': way(tellAgain),
    '/api/sheet/map': way(async (one, query) => {
      const { recipe } = await printOf(one, query);
      return { svg: printingMapSvg(recipe, loadPlanner().planRecipe(recipe)) };
    }),
    '/api/sheets/compared': way(tellCompared),
    '/api/night/page': way(tellPage),
  };
}

interface Print {
  readonly found: SheetOfNight;
  readonly again: RecipeAgain;
  /** As it was given, with its lens as it then was. */
  readonly recipe: Recipe;
}

/** A print as it was given; of light that a power cut ended somebody says whether all of it fell, or none. */
async function printOf(archive: ArchiveReader, query: URLSearchParams): Promise<Print> {
  const found = await sheetAt(archive, query);
  const again = found.again ?? (await withCut(archive, found, query.get('cut')));
  const aperture10 = stoppedDownAperture10(again.recipe.aperture10, again.stoppedDown);
  return { found, again, recipe: { ...again.recipe, aperture10 } };
}

async function withCut(
  archive: ArchiveReader,
  { sheet, cut }: SheetOfNight,
  fell: string | null,
): Promise<RecipeAgain> {
  if (cut !== undefined && fell === null) throw cut;
  return recipeAgain(loadPlanner(), sheet, await archive.recipes(sheet.recipe), {
    ...(fell === 'all' && { cut: 'all' as const }),
    ...(fell === 'none' && { cut: 0 }),
  });
}

async function tellAgain(archive: ArchiveReader, query: URLSearchParams): Promise<AgainTold> {
  const { found, again, recipe } = await printOf(archive, query);
  const made = againAsVersion(recipe, again, found.sheet, await archive.recipes(recipe.name));
  return { recipe: writeRecipe(made.recipe), name: found.name };
}

async function tellCompared(archive: ArchiveReader, query: URLSearchParams): Promise<ComparedTold> {
  const [first, second] = await Promise.all(
    ['first', 'second'].map((which) => printOf(archive, new URLSearchParams(query.get(which) ?? ''))),
  );
  return {
    first: first!.found.name,
    second: second!.found.name,
    changes: printChanges(loadPlanner(), first!.recipe, second!.recipe),
  };
}

async function tellPage(archive: ArchiveReader, query: URLSearchParams): Promise<{ readonly html: string }> {
  const key = nightAsked(query);
  const { entries } = await readNight(archive, loadPlanner(), key);
  const night = nightOfKey(key);
  return {
    html: nightPageBody(entries.filter(isExposure), { events: entries, ...(night !== null && { night }) }),
  };
}
