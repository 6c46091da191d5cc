/**
 * A recipe as it lies in memory and on the shelf: one body of the codec's own records, one after another:
 * RecipeBegin (name and counts), RecipeHead, three RecipeTexts, its passes, then all dodges in order.
 * A body is handled by its address; there is one being printed from and one being uploaded.
 */
import {
  RECIPE_BEGIN_BYTES,
  RECIPE_DODGE_BYTES,
  RECIPE_HEAD_BYTES,
  RECIPE_PASS_BYTES,
  RECIPE_TEXT_BYTES,
  RecipeBegin,
  RecipeDodge,
  RecipeHead,
  RecipePass,
  RecipeText,
} from '../generated/codec';
import { RECIPE_DODGES, RECIPE_PASSES, RECIPE_TEXT_COUNT } from '../generated/constants';
import { copyText } from '../protocol/texts';
import { NAME_BYTES } from '../storage/shelf';

export const HEAD_AT: i32 = RECIPE_BEGIN_BYTES;
export const TEXTS_AT: i32 = HEAD_AT + RECIPE_HEAD_BYTES;
export const PASSES_AT: i32 = TEXTS_AT + RECIPE_TEXT_COUNT * RECIPE_TEXT_BYTES;

export const RECIPE_BODY_BYTES: i32 =
  PASSES_AT + RECIPE_PASSES * RECIPE_PASS_BYTES + RECIPE_DODGES * RECIPE_DODGE_BYTES;

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

/** The bytes that the recipe really takes. */
export function recipeLength(body: usize): i32 {
  const begin = recipeBeginAt(body);
  return PASSES_AT + begin.passes * RECIPE_PASS_BYTES + begin.dodges * RECIPE_DODGE_BYTES;
}

/** A recipe is in use. */
export function hasRecipe(): bool {
  return recipeBeginAt(activeRecipe).passes != 0;
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
