/** What was answered last is ready for the next recipe: the same evening has the same paper, lens and size. */
import { join } from 'node:path';
import envPaths from 'env-paths';
import { TreadleError } from '../../../errors.js';
import { makeFolder } from '../../../files/make-folder.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { mostFileBytes, type Recipe, readRecipe, writeRecipe } from '../../../recipe/index.js';
import { usualRecipe } from '../../../recipe/usual-recipe.js';

const folder = () => envPaths('treadle', { suffix: '' }).data;
const file = () => join(folder(), 'last-recipe.json');

/** The usual recipe with what the last one says of paper, lens and size; undefined where there is none. */
export async function usualAsLast(): Promise<{ recipe: Recipe; words: string } | undefined> {
  const last = await orNothing(async () => readRecipe(await readWholeFile(file(), mostFileBytes)));
  if (last === undefined) return undefined;
  const { paper, aperture10, magnification1000, columnHeightMm, focalLengthMm, dryDown10, title } = last;
  const [base] = usualRecipe.passes;
  const filter = last.passes.find(({ kind }) => kind === 'base')?.filter ?? '';
  return {
    recipe: {
      ...{ ...usualRecipe, paper, aperture10, magnification1000, columnHeightMm, focalLengthMm, dryDown10 },
      passes: [{ ...base!, filter }],
    },
    words: `Paper, lens stop, size and filter are ready as for '${title}'.`,
  };
}

export async function rememberRecipe(recipe: Recipe): Promise<void> {
  await orNothing(async () => {
    await makeFolder(folder());
    await writeWholeFile(file(), writeRecipe(recipe), { over: true });
  });
}

/** It is a convenience: where it cannot be had, a recipe is made all the same. */
async function orNothing<Result>(work: () => Promise<Result>): Promise<Result | undefined> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof TreadleError) return undefined;
    throw error;
  }
}
