/**
 * A recipe as it lies in memory and on the shelf: one body of the codec's own records, one after another:
 * RecipeBegin (name and counts), RecipeHead, three RecipeTexts, its passes, then all dodges in order; then, where any
 * offset has a fine part, a RecipeFine for each, and nothing where none has.
 * A body is handled by its address; there is one being printed from and one being uploaded.
 */
import {
  RECIPE_BEGIN_BYTES,
  RECIPE_DODGE_BYTES,
  RECIPE_FINE_BYTES,
  RECIPE_HEAD_BYTES,
  RECIPE_PASS_BYTES,
  RECIPE_TEXT_BYTES,
  RecipeBegin,
  RecipeDodge,
  RecipeFine,
  RecipeHead,
  RecipePass,
  RecipeText,
} from '../generated/codec';
import {
  PassKind,
  RECIPE_DODGES,
  RECIPE_PASSES,
  RECIPE_TEXT_COUNT,
  RecipeText as Which,
} from '../generated/constants';
import { copyText } from '../protocol/texts';
import { NAME_BYTES } from '../storage/shelf';

export const HEAD_AT: i32 = RECIPE_BEGIN_BYTES;
export const TEXTS_AT: i32 = HEAD_AT + RECIPE_HEAD_BYTES;
export const PASSES_AT: i32 = TEXTS_AT + RECIPE_TEXT_COUNT * RECIPE_TEXT_BYTES;

export const RECIPE_BODY_BYTES: i32 =
  PASSES_AT +
  RECIPE_PASSES * (RECIPE_PASS_BYTES + RECIPE_FINE_BYTES) +
  RECIPE_DODGES * (RECIPE_DODGE_BYTES + RECIPE_FINE_BYTES);

/** The recipe that the pedal prints; all zero when none was chosen. */
export const activeRecipe: usize = memory.data(RECIPE_BODY_BYTES, 8);

export function recipeBeginAt(body: usize): RecipeBegin {
  return changetype<RecipeBegin>(body);
}

export function recipeHeadAt(body: usize): RecipeHead {
  return changetype<RecipeHead>(body + HEAD_AT);
}

/** `which` is a RecipeText of the constants: title, negative or paper. */
export function recipeTextAt(body: usize, which: i32): RecipeText {
  return changetype<RecipeText>(body + TEXTS_AT + which * RECIPE_TEXT_BYTES);
}

/** A recipe of nothing: each text is there, with nothing in it, so that one is the same whether it is sent or not. */
export function emptyRecipe(body: usize): void {
  memory.fill(body, 0, RECIPE_BODY_BYTES);
  recipeTextAt(body, Which.Negative).which = u8(Which.Negative);
  recipeTextAt(body, Which.Paper).which = u8(Which.Paper);
}

/** Pass `index` from 0. */
export function recipePassAt(body: usize, index: i32): RecipePass {
  return changetype<RecipePass>(body + PASSES_AT + index * RECIPE_PASS_BYTES);
}

/** Dodge `index` from 0, counted through the whole recipe. */
export function recipeDodgeAt(body: usize, index: i32): RecipeDodge {
  const passes = i32(recipeBeginAt(body).passes);
  return changetype<RecipeDodge>(body + PASSES_AT + passes * RECIPE_PASS_BYTES + index * RECIPE_DODGE_BYTES);
}

/** How many dodges come before those of pass `index`. */
export function dodgesBefore(body: usize, index: i32): i32 {
  let count = 0;
  for (let pass = 0; pass < index; pass++) count += recipePassAt(body, pass).dodges;
  return count;
}

/** Where the fine parts are, in an address or on the shelf. */
export function finesAt(begin: RecipeBegin): i32 {
  return PASSES_AT + begin.passes * RECIPE_PASS_BYTES + begin.dodges * RECIPE_DODGE_BYTES;
}

/** The fine part of offset `index` from 0: the passes, then all dodges. */
export function recipeFineAt(body: usize, index: i32): RecipeFine {
  return changetype<RecipeFine>(body + finesAt(recipeBeginAt(body)) + index * RECIPE_FINE_BYTES);
}

export function passFine3M(body: usize, index: i32): i32 {
  return recipeFineAt(body, index).fine3M;
}

export function dodgeFine3M(body: usize, index: i32): i32 {
  return recipeFineAt(body, recipeBeginAt(body).passes + index).fine3M;
}

/** The pass is the base itself. */
export function isAtBase(body: usize, index: i32): bool {
  const pass = recipePassAt(body, index);
  return pass.kind == PassKind.Base && pass.stops120 == 0 && passFine3M(body, index) == 0;
}

/** The bytes that the shelf keeps of the recipe. */
export function recipeLength(body: usize): i32 {
  const begin = recipeBeginAt(body);
  const offsets = i32(begin.passes) + i32(begin.dodges);
  for (let index = 0; index < offsets; index++)
    if (recipeFineAt(body, index).fine3M != 0) return finesAt(begin) + offsets * RECIPE_FINE_BYTES;
  return finesAt(begin);
}

/** A recipe is in use. */
export function hasRecipe(): bool {
  return recipeBeginAt(activeRecipe).passes != 0;
}

/** A version above that of the recipe at `body`; one of zero would count as older than all before it. */
export function hasVersionLeft(body: usize): bool {
  return recipeHeadAt(body).version != u16.MAX_VALUE;
}

/** A text. */
export function nameInUse(): usize {
  return recipeBeginAt(activeRecipe).name;
}

/** Gives the recipe at `body` another name, a text. */
export function nameRecipe(body: usize, name: usize): void {
  const place = recipeBeginAt(body).name;
  memory.fill(place, 0, 1 + NAME_BYTES);
  copyText(place, name);
}
