import { wireText } from '../../shared-protocol/wire-text.js';
import type { Recipe } from './recipe.js';

export interface BoardDodge {
  readonly label: string;
  /** Below zero: less light, in 1/120 stop. */
  readonly stops120: number;
}

export interface BoardPass {
  readonly kind: 'base' | 'burn';
  readonly label: string;
  readonly filter: string;
  /** In 1/120 stop: of a base pass its offset from the base, of a burn how much more its area gets. */
  readonly stops120: number;
  readonly dodges: readonly BoardDodge[];
}

/** A recipe as a board keeps it. */
export interface BoardRecipe {
  /** Small letters, digits and hyphens, at most 20. */
  readonly name: string;
  readonly version: number;
  /** At most 24 characters, as the next two: a longer one is refused as it is sent. */
  readonly title: string;
  readonly negative: string;
  readonly paper: string;
  readonly baseMs: number;
  /** The lens's f-number times ten; 0 if not told. */
  readonly aperture10: number;
  /** The enlargement times a thousand; 0 if not told. */
  readonly magnification1000: number;
  /** Tenths of a per cent less light for a paper that dries darker. */
  readonly dryDown10: number;
  readonly passes: readonly BoardPass[];
}

/** Columns for a recipe's texts on the board, and the bytes that they take on the line at most. */
const TEXT_CHARS = 24;
const TEXT_WIRE_BYTES = TEXT_CHARS * 6;

/**
 * What a board keeps of a recipe: title, negative and paper shortened to its display; notes, history, shapes, column
 * and focal length stay on the laptop.
 */
export function toBoardRecipe(recipe: BoardRecipe): BoardRecipe {
  const { name, version, baseMs, aperture10, magnification1000, dryDown10 } = recipe;
  const [title, negative, paper] = [recipe.title, recipe.negative, recipe.paper].map(boardText);
  return {
    ...{ name, version, title: title!, negative: negative!, paper: paper! },
    ...{ baseMs, aperture10, magnification1000, dryDown10, passes: recipe.passes.map(toBoardPass) },
  };
}

/** As much of a recipe as a board has of it; what stayed on a laptop is empty. One without a title is called by its name. */
export function fromBoardRecipe(kept: BoardRecipe): Recipe {
  return { ...kept, title: titleOf(kept), columnHeightMm: 0, focalLengthMm: 0, notes: '', history: [] };
}

function titleOf({ title, name }: BoardRecipe): string {
  return title === '' ? name.replaceAll('-', ' ') : title;
}

/** Whether a board cannot tell the two apart, but for their versions. */
export function isSameOnBoard(one: BoardRecipe, other: BoardRecipe): boolean {
  return onBoardText(one) === onBoardText(other);
}

/** A recipe that was made at the board has no title, and its base no label, before a file gives it some. */
function onBoardText(recipe: BoardRecipe): string {
  const kept = toBoardRecipe({ ...recipe, title: titleOf(recipe) });
  const passes = kept.passes.map((pass) => (pass.label === '' ? { ...pass, label: pass.kind } : pass));
  return JSON.stringify({ ...kept, version: 0, passes });
}

function toBoardPass({ kind, label, filter, stops120, dodges }: BoardPass): BoardPass {
  const kept = dodges.map((dodge) => ({ label: dodge.label, stops120: dodge.stops120 }));
  return { kind, label, filter, stops120, dodges: kept };
}

/** The text if it fits the board, otherwise as much of it as does, and an ellipsis. */
function boardText(value: string): string {
  if (fitsBoard(value)) return value;
  const characters = [...value].slice(0, TEXT_CHARS);
  while (!fitsBoard(`${characters.join('').trimEnd()}…`)) characters.pop();
  return `${characters.join('').trimEnd()}…`;
}

function fitsBoard(value: string): boolean {
  return [...value].length <= TEXT_CHARS && wireText(value).length <= TEXT_WIRE_BYTES;
}
