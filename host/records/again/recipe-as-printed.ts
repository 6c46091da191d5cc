import type { BoardRecipe } from '../../recipe/board-recipe.js';
import { withWholeStops } from '../../recipe/fine-stops.js';
import type { KeptRecipe } from '../archive/archive.js';
import { contentAt } from '../recipes/content-at.js';
import type { PrintedSheet, Turn } from './printed-sheet.js';

/**
 * The recipe that a board had in its hands for a sheet: what its version held, with the base of the sheet and what the knob
 * had turned. A version that was made at the board and never came to a laptop follows from the one before it. Undefined
 * where the archive has none of that to begin from.
 */
export function recipeAsPrinted(sheet: PrintedSheet, kept: readonly KeptRecipe[]): BoardRecipe | undefined {
  const { turns, version, baseMs } = sheet;
  const from = contentBefore(sheet, kept, turns.length, version);
  if (from === undefined) return undefined;
  const turned = turns.slice(from.turnsDone).reduce(withTurn, from.recipe);
  return { ...turned, version, baseMs };
}

/** What a sheet's version held at that time. */
export function contentAtSheet(
  { board, at, version }: Pick<PrintedSheet, 'board' | 'at' | 'version'>,
  kept: readonly KeptRecipe[],
): KeptRecipe | undefined {
  return contentAt(kept, version, { board, atMs: at === null ? null : Date.parse(at) });
}

interface Beginning {
  readonly recipe: BoardRecipe;
  /** So many turns are in it already. */
  readonly turnsDone: number;
}

/** Goes back from version to version until one is known. */
function contentBefore(
  sheet: PrintedSheet,
  kept: readonly KeptRecipe[],
  turnsUntil: number,
  version: number,
): Beginning | undefined {
  const keptAt = sheet.turns
    .slice(0, turnsUntil)
    .findLastIndex((turn) => 'keptVersion' in turn && turn.keptVersion === version);
  const content = contentAtSheet({ ...sheet, version }, kept);
  if (content !== undefined) return { recipe: content.recipe, turnsDone: keptAt + 1 };
  return keptAt < 0 ? undefined : contentBefore(sheet, kept, keptAt, version - 1);
}

function withTurn(recipe: BoardRecipe, turn: Turn): BoardRecipe {
  if ('keptVersion' in turn) return recipe;
  const { pass, dodge, stops120 } = turn;
  const passes = recipe.passes.map((one, at) => {
    if (at + 1 !== pass) return one;
    if (dodge === 0) return turnedTo(one, stops120);
    return {
      ...one,
      dodges: one.dodges.map((held, nth) => (nth + 1 === dodge ? turnedTo(held, stops120) : held)),
    };
  });
  return { ...recipe, passes };
}

function turnedTo<Offset extends { readonly stops120: number }>(one: Offset, stops120: number): Offset {
  return { ...one, stops120: withWholeStops(one.stops120, stops120) };
}
