import type { ArchiveReader, KeptRecipe } from '../../../records/archive/archive.js';
import { listOfAll } from './list-of-all.js';
import type { NegativeTold, NightsTold } from './told.js';

/** What there is to look back on: counts, and which recipes were printed; no record is read for it. */
export async function listNights(archive: ArchiveReader): Promise<NightsTold> {
  return {
    file: archive.file,
    nights: (await listOfAll(archive.nights())).reverse(),
    negatives: await negativesOf(archive),
    boardNames: Object.fromEntries(await archive.boardNames()),
  };
}

async function negativesOf(archive: ArchiveReader): Promise<NegativeTold[]> {
  const newest = new Map<string, KeptRecipe['recipe']>();
  for (const { recipe } of await archive.recipes()) newest.set(recipe.name, recipe);
  return (await archive.printedRecipes()).map((printed) => ({
    ...printed,
    title: newest.get(printed.name)?.title ?? printed.name,
    negative: newest.get(printed.name)?.negative ?? '',
  }));
}
