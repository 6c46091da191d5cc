import { crc32Hex } from '../../../shared-protocol/crc32.js';
import type { LineOf } from '../../../shared-protocol/index.js';
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import { partsOfRecipe, RecipePartsError, recipeFromParts } from '../../recipe/recipe-messages.js';
import { InvalidRequestError } from '../errors.js';
import type { AskOptions, Wish } from './answer-reader.js';
import type { Asking } from './requests.js';

export interface UploadOptions {
  readonly signal?: AbortSignal;
  /** Told after each line that the board has taken. */
  readonly onProgress?: (linesDone: number, linesInAll: number) => void;
}

/** Where a line's checksum stands: 8 digits before the closing quote, bracket and newline. */
const CHECKSUM_FROM = -11;
const CHECKSUM_TO = -3;

/**
 * Sends a recipe: the board keeps all of it or, if anything goes wrong before the end, what it had before.
 * @throws RefusedError with the board's reason, BoardLostError; InvalidRequestError when it fits no board.
 */
export function uploadRecipe(
  requests: Asking,
  recipe: BoardRecipe,
  options: UploadOptions = {},
): Promise<void> {
  if (recipe.name === '') throw new InvalidRequestError('a recipe needs a name');
  const wishes: readonly Wish[] = partsOfRecipe(recipe);
  const ask: AskOptions = { signal: options.signal };
  return requests.inTurn(async () => {
    let checksums = '';
    for (const [index, wish] of wishes.entries()) {
      const { line } = await requests.ask(wish, ask);
      checksums += line.slice(CHECKSUM_FROM, CHECKSUM_TO);
      options.onProgress?.(index + 1, wishes.length + 1);
    }
    await requests.ask({ type: 'recipe-commit', whole: crc32Hex(checksums) }, ask);
    options.onProgress?.(wishes.length + 1, wishes.length + 1);
  });
}

/** Puts together the lines by which a board tells a recipe. Undefined when they do not make a whole one. */
export function recipeFromLines(lines: readonly LineOf<'recipe-get'>[]): BoardRecipe | undefined {
  try {
    return recipeFromParts(lines);
  } catch (error) {
    if (error instanceof RecipePartsError) return undefined;
    throw error;
  }
}
