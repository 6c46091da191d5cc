/** What was worked out, line by line, for whoever is to print it. */
import { limits } from '../../../shared-protocol/limits.js';
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
    `then ${seconds(hardMs)} through ${filterText(hard.filter)}, ${stopsWords(hard.stops120)} stop from the base`,
    ...dodged.map((label) => `dodge '${label}' in both, by as many stops of each as before of the whole`),
    ...burns.map(
      ({ label, beforeStops120, stops120, doseMs }) =>
        `burn '${label}' ${stopsWords(beforeStops120)} to ${stopsWords(stops120)} stop of the new base, so that it stays ${seconds(doseMs)}`,
    ),
  ];
}

/** As people say them: an offset that came of a time may be a whole number of 1/120, and '+59/120' says nothing to them. */
function stopsWords(stops120: number): string {
  const text = formatStops(stops120);
  const denominator = Number(/\/(\d+)$/.exec(text)?.[1] ?? 1);
  return denominator <= LARGEST_SAID
    ? text
    : `${text[0]}${(Math.abs(stops120) / limits.stopParts).toFixed(4)}`;
}

/** Twelfths are the smallest parts of a stop that a printer works in. */
const LARGEST_SAID = 12;

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
