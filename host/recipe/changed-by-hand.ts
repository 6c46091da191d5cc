import type { Recipe } from './recipe.js';
import { changesBetween } from './recipe-changes.js';
import { revised } from './revised.js';

/**
 * A recipe that somebody changed, as its next version with a line for each change. Where no line shows what is different,
 * as of an area that lies elsewhere, the version stays.
 */
export function changedByHand(before: Recipe, after: Recipe, at: Date): Recipe {
  if (changesBetween(before, after).length === 0) return after;
  // The base's line is written by whoever counts the version up.
  return revised(before, after, changesBetween(before, { ...after, baseMs: before.baseMs }), at);
}
