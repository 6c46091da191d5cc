import { RefusedError } from '../../board/errors.js';
import type { Board } from '../../board/link/board.js';
import { type BoardRecipe, toBoardRecipe } from '../../recipe/board-recipe.js';
import type { Recipe } from '../../recipe/recipe.js';
import type { Archive } from '../archive/archive.js';
import { type Numbered, numberToSend } from './not-over.js';

export interface SendOptions {
  /** As the version after the newest, whatever number it bears. */
  readonly asNext?: boolean;
  readonly signal?: AbortSignal;
  readonly onProgress?: (linesDone: number, linesInAll: number) => void;
}

/** What became of a recipe that was to be sent. */
export interface Sent extends Numbered {
  /** With the version that it has now. */
  readonly recipe: Recipe;
}

/**
 * Sends a recipe and keeps it in the archive, and writes over nothing: what the board has of that name is an earlier one and
 * is in the archive before it is replaced.
 * @throws RecipeOverError
 */
export async function sendRecipe(
  archive: Pick<Archive, 'recipes' | 'keepRecipe'>,
  board: Board,
  recipe: Recipe,
  { asNext = false, ...uploading }: SendOptions = {},
): Promise<Sent> {
  const onBoard = await readableRecipe(board, recipe.name, uploading);
  const kept = await archive.recipes(recipe.name);
  const numbered = numberToSend(recipe, onBoard, kept, asNext);
  const sent = { ...recipe, version: numbered.version };
  if (!numbered.isThere) {
    if (onBoard !== undefined && !kept.some((one) => isSame(one.recipe, onBoard)))
      await archive.keepRecipe(onBoard, board.id, { how: 'collected' });
    await board.sendRecipe(toBoardRecipe(sent), uploading);
  }
  await archive.keepRecipe(sent, board.id);
  return { ...numbered, recipe: sent };
}

function isSame(one: BoardRecipe, other: BoardRecipe): boolean {
  return JSON.stringify(toBoardRecipe(one)) === JSON.stringify(toBoardRecipe(other));
}

/** What a board has under a name; undefined where that is nothing, or nothing that can be read any more. */
export async function readableRecipe(
  board: Board,
  name: string,
  options: { readonly signal?: AbortSignal },
): Promise<BoardRecipe | undefined> {
  try {
    return await board.getRecipe(name, options);
  } catch (error) {
    if (error instanceof RefusedError && (error.code === 'not-found' || error.code === 'damaged'))
      return undefined;
    throw error;
  }
}
