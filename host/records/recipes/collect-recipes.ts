import type { Board } from '../../board/link/board.js';
import { type BoardRecipe, isSameOnBoard } from '../../recipe/board-recipe.js';
import type { Archive } from '../archive/archive.js';
import { readableRecipe } from './send-recipe.js';

/**
 * Keeps what a board has on its shelf, so that a print by a recipe that was made or changed there can be made again. What
 * the archive has of it by the board's own checksum is not asked for. A board of another version tells no recipes.
 * @returns the recipes that the archive did not have
 */
export async function collectRecipes(
  archive: Pick<Archive, 'recipes' | 'keepRecipe'>,
  board: Board,
  options: { readonly signal?: AbortSignal } = {},
): Promise<BoardRecipe[]> {
  if (board.mismatch !== undefined) return [];
  const fresh: BoardRecipe[] = [];
  for (const { name, version, bodyCrc, intact } of await board.listRecipes(options)) {
    if (!intact) continue;
    const kept = await archive.recipes(name);
    const latest = kept.findLast((one) => one.board === board.id);
    if (latest?.bodyCrc === bodyCrc && latest.recipe.version === version) continue;
    const recipe = await readableRecipe(board, name, options);
    if (recipe === undefined) continue;
    // What was sent from a laptop has notes and shapes as well: that content is pointed to.
    const same = kept.findLast((one) => one.recipe.version === version && isSameOnBoard(one.recipe, recipe));
    await archive.keepRecipe(same?.recipe ?? recipe, board.id, { how: 'collected', bodyCrc });
    if (same === undefined) fresh.push(recipe);
  }
  return fresh;
}
