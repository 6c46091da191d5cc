import { type BoardRecipe, isSameOnBoard } from '../../recipe/board-recipe.js';
import type { KeptRecipe, PrintedSheet } from '../archive/archive.js';

/**
 * What a version of a recipe held when a sheet was printed by it: what was last sent to that board, saved from it or found on
 * it before, else what was found there first afterwards; where that board is not known to have had it, the same of any.
 */
export function contentAt(
  kept: readonly KeptRecipe[],
  version: number,
  { board, atMs }: PrintedSheet,
): KeptRecipe | undefined {
  const ofVersion = kept.filter(({ recipe }) => recipe.version === version);
  const onBoard = ofVersion.filter((one) => one.board === board);
  const among = onBoard.length > 0 ? onBoard : ofVersion;
  const before = among.filter(({ keptMs }) => atMs === null || keptMs <= atMs);
  return before.at(-1) ?? among[0];
}

/** What has the most of what a board does not hold: the same print, else the nearest version before it, else any. */
export function contentToComplete(kept: readonly KeptRecipe[], onBoard: BoardRecipe): KeptRecipe | undefined {
  const whole = kept.filter(({ recipe }) => 'notes' in recipe);
  const before = whole.filter(({ recipe }) => recipe.version <= onBoard.version);
  const nearest = Math.max(...before.map(({ recipe }) => recipe.version));
  return (
    whole.findLast(({ recipe }) => isSameOnBoard(recipe, onBoard)) ??
    before.findLast(({ recipe }) => recipe.version === nearest) ??
    whole.at(-1)
  );
}
