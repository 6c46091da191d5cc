import { type Recipe, writeRecipe } from '../recipe/index.js';
import { print, printJson, remark } from './terminal/print.js';
import { writeNewFile } from './write-new-file.js';

/** Options of every command that makes a new version of a recipe. */
export interface NewVersionOptions {
  readonly output?: string;
  readonly force?: true;
  readonly json?: true;
}

/** Tells how the new version came about, and writes it where that was asked for. */
export async function tellNewVersion(
  recipe: Recipe,
  account: { readonly words: string; readonly data: unknown },
  { output, force, json }: NewVersionOptions,
): Promise<void> {
  if (output !== undefined) await writeNewFile(output, writeRecipe(recipe), force === true);
  if (json) printJson({ account: account.data, recipe: JSON.parse(writeRecipe(recipe)) });
  else print(account.words);
  if (output !== undefined) remark(`'${recipe.name}' version ${recipe.version} is in ${output}.`);
  else if (!json) remark('Nothing was written. Add --output FILE to write the new version.');
}
