/** What changed from one print to another, in stops, each as it was given. */

import { seconds } from '../../figures.js';
import type { Planner } from '../../recipe/planner/index.js';
import type { Recipe, RecipePass } from '../../recipe/recipe.js';
import { byWords, passWords } from '../../recipe/recipe-differences.js';
import { formatAperture10 } from '../../recipe/text/aperture-text.js';

/** One thing of a print, in both: figures in hundredths of a stop are for reading side by side. */
export interface PrintChange {
  readonly what: string;
  /** Empty where that print did not have it. */
  readonly first: string;
  readonly second: string;
  /** From the first to the second, in hundredths of a stop; undefined where it is no light. */
  readonly stops100: number | undefined;
}

/** Base, burns, dodges, filters and lens of both, whether they changed or not; recipes as `recipeAgain` makes them. */
export function printChanges(planner: Planner, first: Recipe, second: Recipe): PrintChange[] {
  const [baseMs, baseNowMs] = [first, second].map((recipe) => planner.planRecipe(recipe).baseMs) as [
    number,
    number,
  ];
  const before = byWords(first.passes, passWords);
  const now = byWords(second.passes, passWords);
  const names = [...new Set([...before.keys(), ...now.keys()])];
  return [
    {
      what: 'base',
      first: seconds(baseMs),
      second: seconds(baseNowMs),
      stops100: planner.stopsBetween100(baseMs, baseNowMs),
    },
    ...names.flatMap((words) => passChanges(words, before.get(words), now.get(words))),
    ...lensChange(first, second),
  ];
}

function passChanges(words: string, from: RecipePass | undefined, to: RecipePass | undefined): PrintChange[] {
  const isPlainBase = [from, to].every(
    (pass) => pass === undefined || (pass.kind === 'base' && pass.stops120 === 0),
  );
  const own = isPlainBase && from !== undefined && to !== undefined ? [] : [stopsChange(words, from, to)];
  const [dodges, dodgesNow] = [from, to].map((pass) => byWords(pass?.dodges ?? [], ({ label }) => label));
  const labels = [...new Set([...dodges!.keys(), ...dodgesNow!.keys()])];
  return [
    ...own,
    ...labels.map((label) => stopsChange(`dodge ${label}`, dodges!.get(label), dodgesNow!.get(label))),
    ...filterChange(words, from, to),
  ];
}

interface InStops {
  readonly stops120: number;
}

/** Nothing given is no stops more and none less. */
function stopsChange(what: string, from: InStops | undefined, to: InStops | undefined): PrintChange {
  const text = (one: InStops | undefined) => (one === undefined ? '' : stopsText(one.stops120));
  return {
    ...{ what, first: text(from), second: text(to) },
    stops100: Math.round(((to?.stops120 ?? 0) - (from?.stops120 ?? 0)) / 1.2),
  };
}

function stopsText(stops120: number): string {
  return `${stops120 < 0 ? '-' : '+'}${(Math.abs(stops120) / 120).toFixed(2)}`;
}

function filterChange(
  words: string,
  from: RecipePass | undefined,
  to: RecipePass | undefined,
): PrintChange[] {
  if (from === undefined || to === undefined || from.filter === to.filter) return [];
  const [first, second] = [from, to].map(({ filter }) => filter || 'none');
  return [{ what: `filter of ${words}`, first: first!, second: second!, stops100: undefined }];
}

/** The light that a lens lets through goes by the square of its aperture: f/8 to f/11 is a stop less. */
function lensChange({ aperture10: from }: Recipe, { aperture10: to }: Recipe): PrintChange[] {
  if (from === to) return [];
  const text = (aperture10: number) => (aperture10 === 0 ? 'not told' : formatAperture10(aperture10));
  const stops = from === 0 || to === 0 ? undefined : 2 * Math.log2(from / to);
  // Engraved figures are rounded: the nearest sixth of a stop is meant.
  const meant = stops === undefined ? undefined : Math.round((Math.round(stops * 6) / 6) * 100);
  return [{ what: 'aperture', first: text(from), second: text(to), stops100: meant }];
}
