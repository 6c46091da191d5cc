import { TreadleError } from '../../errors.js';
import { type BoardRecipe, isSameOnBoard } from '../../recipe/board-recipe.js';
import { LAST_VERSION, NoVersionLeftError } from '../../recipe/last-version.js';
import { recipeDifferences } from '../../recipe/recipe-differences.js';
import type { KeptRecipe } from '../archive/archive.js';

/** A recipe would have taken the place of another that is no earlier one: nothing was sent. */
export class RecipeOverError extends TreadleError {
  override readonly name = 'RecipeOverError';
  readonly exitCode = 2;
  constructor(
    readonly recipe: string,
    readonly version: number,
    readonly versionOnBoard: number,
    /** From what the board has to what was to be sent, in words. */
    readonly differences: readonly string[],
  ) {
    const both =
      versionOnBoard > version
        ? `the board has version ${versionOnBoard} of '${recipe}', and this is version ${version}, an older one`
        : `the board has another version ${version} of '${recipe}', which was not sent from here`;
    super(
      `${both}. By sending it: ${differences.join('; ')}. ` +
        `Nothing was sent. 'treadle save ${recipe} -o FILE' saves what the board has; ` +
        "'--as-next' sends this one as the version after it",
    );
  }
}

/** The version under which a recipe goes to a board, and why. */
export interface Numbered {
  readonly version: number;
  /** The board has the same already, under this version. */
  readonly isThere: boolean;
  /** Where it gets a number of its own: the other content that has its number, and how that differs. */
  readonly insteadOf?: readonly string[];
}

/**
 * Numbers a recipe so that nothing is written over: what was edited by hand and still bears the number of what was sent
 * from here gets the next one.
 * @throws RecipeOverError where the board has a newer one, or one of that number which was not sent from here.
 */
export function numberToSend(
  recipe: BoardRecipe,
  onBoard: BoardRecipe | undefined,
  kept: readonly KeptRecipe[],
  asNext = false,
): Numbered {
  const { version } = recipe;
  if (onBoard !== undefined && isSameOnBoard(recipe, onBoard) && version <= onBoard.version)
    return { version: onBoard.version, isThere: true };
  const next = () => nextVersion(recipe, onBoard, kept);
  if (asNext) return { version: next(), isThere: false };
  if (onBoard !== undefined && !mayReplace(onBoard, version, kept))
    throw new RecipeOverError(recipe.name, version, onBoard.version, recipeDifferences(onBoard, recipe));
  const namesake = onBoard?.version === version ? onBoard : namesakeOf(recipe, kept);
  return namesake === undefined
    ? { version, isThere: false }
    : { version: next(), isThere: false, insteadOf: recipeDifferences(namesake, recipe) };
}

/** An older one may be replaced, and one of the same number where it was sent from here, so that this was made from it. */
function mayReplace(onBoard: BoardRecipe, version: number, kept: readonly KeptRecipe[]): boolean {
  if (onBoard.version !== version) return onBoard.version < version;
  return ofVersion(kept, version).some((one) => isSameOnBoard(one.recipe, onBoard));
}

/** What the archive has under this number, where that is another content. */
function namesakeOf(recipe: BoardRecipe, kept: readonly KeptRecipe[]): BoardRecipe | undefined {
  const namesakes = ofVersion(kept, recipe.version);
  if (namesakes.some((one) => isSameOnBoard(one.recipe, recipe))) return undefined;
  return namesakes.at(-1)?.recipe;
}

function ofVersion(kept: readonly KeptRecipe[], version: number): KeptRecipe[] {
  return kept.filter((one) => one.recipe.version === version);
}

/** The number after the newest that is known, or its own where that is higher. @throws NoVersionLeftError */
export function nextVersion(
  recipe: BoardRecipe,
  onBoard: BoardRecipe | undefined,
  kept: readonly KeptRecipe[],
): number {
  const versions = kept.map((one) => one.recipe.version);
  const newest = Math.max(recipe.version - 1, onBoard?.version ?? 0, ...versions);
  if (newest >= LAST_VERSION) throw new NoVersionLeftError(recipe.name);
  return newest + 1;
}
