/** What a board does not hold of a recipe, put back from where it was kept. */
import {
  type BoardRecipe,
  fromBoardRecipe,
  isSameOnBoard,
  toBoardRecipe,
} from '../../recipe/board-recipe.js';
import type { Recipe, RecipeDodge, RecipePass } from '../../recipe/recipe.js';
import { byWords, passWords } from '../../recipe/recipe-differences.js';

export interface Completed {
  readonly recipe: Recipe;
  /** Passes and dodges that have no place on the paper, in words: the board does not hold it, and nothing kept has it. */
  readonly unplaced: readonly string[];
}

/**
 * The board's recipe with whole texts, shapes, notes, history and distances from one that was kept of it. One that prints
 * the same is given back as it was kept; of another, what bears the same name is.
 */
export function completed(onBoard: BoardRecipe, kept: BoardRecipe | Recipe | undefined): Completed {
  const before = kept === undefined ? undefined : { ...fromBoardRecipe(kept), ...kept };
  const recipe = before === undefined ? fromBoardRecipe(onBoard) : withWhatStayed(onBoard, before);
  return { recipe, unplaced: unplacedOf(recipe) };
}

function withWhatStayed(onBoard: BoardRecipe, before: Recipe): Recipe {
  if (isSameOnBoard(onBoard, before)) return { ...before, version: onBoard.version };
  const short = toBoardRecipe(before);
  const whole = (field: 'title' | 'negative' | 'paper') =>
    onBoard[field] === short[field] ? before[field] : onBoard[field];
  const { columnHeightMm, focalLengthMm, notes, history, framing, filmTie } = before;
  return {
    ...fromBoardRecipe({
      ...onBoard,
      title: whole('title'),
      negative: whole('negative'),
      paper: whole('paper'),
    }),
    ...{ columnHeightMm, focalLengthMm, notes, history },
    ...(framing && { framing }),
    ...(filmTie && { filmTie }),
    passes: passesWithShapes(onBoard.passes, before.passes),
  };
}

function passesWithShapes(onBoard: BoardRecipe['passes'], before: readonly RecipePass[]): RecipePass[] {
  const kept = byWords(before, passWords);
  return [...byWords(onBoard, passWords)].map(([words, pass]) => {
    const same = kept.get(words);
    return { ...pass, ...shapeOf(same), dodges: dodgesWithShapes(pass.dodges, same?.dodges ?? []) };
  });
}

function dodgesWithShapes(onBoard: readonly RecipeDodge[], before: readonly RecipeDodge[]): RecipeDodge[] {
  const kept = byWords(before, ({ label }) => label);
  return [...byWords(onBoard, ({ label }) => label)].map(([label, dodge]) => ({
    ...dodge,
    ...shapeOf(kept.get(label)),
  }));
}

function shapeOf(kept: Pick<RecipePass, 'shape'> | undefined): Pick<RecipePass, 'shape'> {
  return kept?.shape === undefined ? {} : { shape: kept.shape };
}

function unplacedOf({ passes }: Recipe): string[] {
  return passes.flatMap((pass) => [
    ...(pass.kind === 'burn' && pass.shape === undefined ? [passWords(pass)] : []),
    ...pass.dodges.filter(({ shape }) => shape === undefined).map(({ label }) => `dodge ${label}`),
  ]);
}
