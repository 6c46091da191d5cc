import { commonEnlarger, easelLux } from '../darkroom/light/enlarger.js';
import { baseByTie, type TiedBase } from '../darkroom/negative/base-by-tie.js';
import type { Negative } from '../darkroom/negative/negative.js';
import { filmTones } from '../darkroom/negative/tied.js';
import { middleLogTransmittance, setupOf } from '../darkroom/picture/preview.js';
import type { FilmTie } from '../recipe/film-tie.js';
import type { Recipe } from '../recipe/recipe.js';

/** The base for the middle of a negative on the lens and size of its recipe, by a strip made on those of another. */
export function baseFor(negative: Negative, tie: FilmTie, tiedBy: Recipe, recipe: Recipe): TiedBase {
  const { value, low, high } = baseByTie(tie, filmTones(negative), middleLogTransmittance(negative));
  const lux = (setup: Recipe) => easelLux(commonEnlarger, setupOf(setup));
  const stops = Math.log2(lux(tiedBy) / lux(recipe));
  return { value: value + stops, low: low + stops, high: high + stops };
}
