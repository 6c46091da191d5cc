import type { Advice } from '../daylight/advice.js';
import { seconds } from '../figures.js';
import { formatAperture10, formatDryDown10, formatStops, type Recipe } from '../recipe/index.js';
import type { PlannedPass, PlannedSegment, RecipePlan } from '../recipe/planner/index.js';
import { adviceLines } from './terminal/advice-lines.js';
import { cleanText } from './terminal/clean-text.js';
import { table } from './terminal/table.js';

/** What a recipe comes to on the board: every pass with its light and its time of the lamp, and what to mind. */
export function recipeAccount(recipe: Recipe, plan: RecipePlan, advice: readonly Advice[]): string {
  return [heading(recipe, plan), passTable(plan), closing(plan, advice)].join('\n\n');
}

function closing({ totalMs }: RecipePlan, advice: readonly Advice[]): string {
  return cleanText([`${seconds(totalMs)} of light in all.`, ...adviceLines(advice)].join('\n'), 'lines');
}

function heading(recipe: Recipe, { baseMs }: RecipePlan): string {
  const said = [
    recipe.negative && `negative ${recipe.negative}`,
    recipe.paper,
    recipe.aperture10 && formatAperture10(recipe.aperture10),
    recipe.magnification1000 && `${recipe.magnification1000 / 1000}x`,
  ].filter((part) => part);
  const dryDown =
    recipe.dryDown10 > 0
      ? ` (${seconds(recipe.baseMs)} less ${formatDryDown10(recipe.dryDown10)} for dry-down)`
      : '';
  const lines = [
    recipe.title,
    ...(said.length > 0 ? [said.join(', ')] : []),
    `base ${seconds(baseMs)}${dryDown}`,
  ];
  return lines.map((line) => cleanText(line)).join('\n');
}

function passTable({ passes }: RecipePlan): string {
  return table(
    [
      { head: 'pass', align: 'right' },
      { head: 'what' },
      { head: 'filter' },
      { head: 'stops', align: 'right' },
      { head: 'light', align: 'right' },
      { head: 'lamp on', align: 'right' },
      { head: '' },
    ],
    passes.flatMap((pass, at) => [passRow(pass, at + 1), ...segmentRows(pass)]),
  );
}

function passRow({ kind, label, filter, stops120, doseMs, segments }: PlannedPass, pass: number): string[] {
  const what = kind === 'burn' ? `burn ${label}` : label;
  const onMs = segments.reduce((sum, segment) => sum + segment.onMs, 0);
  return [`${pass}`, what, filter, formatStops(stops120), seconds(doseMs), seconds(onMs), ''];
}

/** A pass of one segment has said it all in its own row. */
function segmentRows({ segments }: PlannedPass): string[][] {
  if (segments.length === 1) return [];
  return segments.map((segment) => [
    '',
    `  ${segmentName(segment)}`,
    '',
    '',
    seconds(segment.doseMs),
    seconds(segment.onMs),
    note(segment),
  ]);
}

function segmentName({ kind, label }: PlannedSegment): string {
  return kind === 'dodge' ? `dodge ${label}` : 'no dodge';
}

function note({ joined, stopsFirst }: PlannedSegment): string {
  if (joined) return 'follows the dodge without a stop: too short for the lamp alone';
  return stopsFirst ? 'waits for the pedal' : '';
}
