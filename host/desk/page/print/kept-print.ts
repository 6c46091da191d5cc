/** Where the print on the desk came from, and how it is kept: in the archive, as a file, and until the next start. */
import { changedByHand } from '../../../recipe/changed-by-hand.js';
import {
  fileFromRecipe,
  nameFromTitle,
  type Recipe,
  readRecipe,
  UnreadableText,
} from '../../../recipe/index.js';
import { changedFileText, newFileText } from '../../../recipe/reading/changed-file.js';
import { usualRecipe } from '../../../recipe/usual-recipe.js';

/** A file as it was read or written last. */
export interface OwnFile {
  readonly name: string;
  readonly text: string;
  /** Not in the desk's folder: handed over by the browser, which does not tell where it lies. */
  readonly isElsewhere?: true;
}

/** What changes are counted from. */
export interface Origin {
  /** The version that was opened, or kept last; not there for a new print. */
  readonly before?: Recipe;
  /** The file that it was opened from, or written to. */
  readonly file?: OwnFile;
  /** What it is called since, where that was changed on the desk. */
  readonly name?: string;
}

export const usualPrint = usualRecipe;

const kind = { read: (text: string) => readRecipe(text), file: fileFromRecipe };

/** The recipe as a version to keep: with a name, a number and what was changed. */
export function nextVersion(recipe: Recipe, { before, name }: Origin, at: Date): Recipe {
  const named = withName(recipe);
  if (before === undefined || (name ?? before.name) !== named.name) return named;
  return changedByHand(before, named, at);
}

/** A new print is called by its title. @throws UnreadableText for one without */
export function withName(recipe: Recipe): Recipe {
  if (recipe.title === '') throw new UnreadableText('Give the print a title first.');
  return { ...recipe, name: recipe.name || nameFromTitle(recipe.title) };
}

/** What is on the desk may have come there from elsewhere, as a print that is made again: then no file is its own. */
export function ownFile(recipe: Recipe, { file, before, name }: Origin): OwnFile | undefined {
  return (name ?? before?.name) === recipe.name ? file : undefined;
}

/** Its file, in the layout of the one that it came from; with what the commands would have written. */
export function fileOf(version: Recipe, file: OwnFile | undefined): string {
  if (file === undefined) return newFileText(kind, version);
  return changedFileText(kind, file.text, readRecipe(file.text), version);
}

/** 'slipway.json', or the name of the file that it came from. */
export function fileNameOf({ name }: Recipe, file: OwnFile | undefined): string {
  return file?.name ?? `${name}.json`;
}
