import type { Recipe } from './recipe.js';

/** What is ready where nothing is known yet: common practice, no source. */
export const usualRecipe: Recipe = {
  ...{ name: '', title: '', negative: '', paper: '', version: 1, aperture10: 80, magnification1000: 0 },
  ...{ columnHeightMm: 0, focalLengthMm: 0, dryDown10: 0, baseMs: 10_000, notes: '', history: [] },
  passes: [{ kind: 'base', label: 'base', filter: '', stops120: 0, dodges: [] }],
};
