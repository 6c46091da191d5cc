/** What was worked out, line by line, for whoever is to print it. */
import { seconds } from '../../figures.js';
import { formatStops, type RecipePass } from '../../recipe/index.js';
import type { ContrastAdvice } from '../contrast/contrast.js';
import type { FilterChange } from '../filters/change-filter.js';
import { filterText } from '../filters/filter-table.js';
import type { SplitAccount } from './split-recipe.js';

export function splitWords({ baseMs, hardMs, passes, dodged, burns }: SplitAccount): string[] {
  const [soft, hard] = passes;
  return [
    `base ${seconds(baseMs)} through ${filterText(soft.filter)}`,
    `then ${seconds(hardMs)} through ${filterText(hard.filter)}, ${formatStops(hard.stops120)} stop from the base`,
    ...dodged.map((label) => `dodge '${label}' in both, by as many stops of each as before of the whole`),
    ...burns.map(
      ({ label, beforeStops120, stops120, doseMs }) =>
        `burn '${label}' ${formatStops(beforeStops120)} to ${formatStops(stops120)} stop of the new base, so that it stays ${seconds(doseMs)}`,
    ),
  ];
}

/** @param number of the pass, from 1. */
export function filterWords(number: number, before: RecipePass, change: FilterChange): string[] {
  return [
    `pass ${number}: ${filterText(change.filter)}, ${formatStops(before.stops120)} to ${formatStops(change.stops120)} stop`,
    change.because,
    seconds(change.doseMs),
  ];
}

/** Without the cautions. */
export function contrastWords(
  { neededR, grade, filter, filterSource }: ContrastAdvice,
  baseMs: number | undefined,
): string[] {
  return [
    `The negative needs a paper of ISO R${Number(neededR.toFixed(1))}.`,
    `Nearest grade: ${grade.grade}.`,
    ...(filter
      ? [
          `Nearest filter: ${filter.filter}${filter.rangeR === undefined ? '' : ` (${[`R${filter.rangeR}`, ...(filterSource ? [filterSource] : [])].join(', ')})`}.`,
        ]
      : []),
    ...(baseMs === undefined ? [] : [`New base: ${seconds(baseMs)}.`]),
  ];
}
