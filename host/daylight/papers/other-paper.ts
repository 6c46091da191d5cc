import type { Interval } from '../../darkroom/reading/strip-figures.js';
import { counted } from '../../figures.js';
import { filterText } from '../filters/filter-table.js';
import { type Change, RescaleError } from '../rescale.js';
import { profileOf } from './measured-filters.js';
import { type MeasuredPaper, paperName } from './measured-paper.js';

/** From one measured paper to another, through one filter. */
export interface OtherPaper {
  readonly speedP: Change<number>;
  /** What the time is multiplied by, and between what that lies. */
  readonly factor: Interval;
  /** In words: what is measured, and through which filter the new paper comes nearest to the contrast of the old. */
  readonly words: readonly string[];
}

/** @throws RescaleError where the speed of either was not measured: then nothing is known of one beside the other */
export function otherPaper(from: MeasuredPaper, to: MeasuredPaper, filter: string): OtherPaper {
  const [old, anew] = [speedOf(from, filter), speedOf(to, filter)];
  const factor = old.value / anew.value;
  const spread = Math.hypot(Math.log(old.high / old.low), Math.log(anew.high / anew.low)) / 2;
  const interval = { value: factor, low: factor * Math.exp(-spread), high: factor * Math.exp(spread) };
  return {
    speedP: { from: Math.round(old.value), to: Math.round(anew.value) },
    factor: interval,
    words: [
      `measured through ${filterText(filter)}: x ${interval.low.toFixed(2)} to ${interval.high.toFixed(2)} in 95 of 100 cases, ` +
        `by ${counted(stripsOf(from, filter), 'strip')} of ${paperName(from)} and ${stripsOf(to, filter)} of ${paperName(to)}`,
      ...contrastWords(from, to, filter),
    ],
  };
}

function speedOf(measured: MeasuredPaper, filter: string): Interval {
  const speed = profileOf(measured, filter)?.speedP;
  if (speed !== undefined) return speed;
  throw new RescaleError(
    'paper-speed',
    `the speed of ${paperName(measured)} through ${filterText(filter)} was not measured: read a strip of it with the light on the easel ` +
      "('treadle paper add --lux'), or give both speeds by --paper-speed",
  );
}

function stripsOf(measured: MeasuredPaper, filter: string): number {
  return profileOf(measured, filter)?.strips.length ?? 0;
}

/** Alike as far as eyes tell: half of the difference between neighbouring filters. */
const ALIKE_R = 5;

function contrastWords(from: MeasuredPaper, to: MeasuredPaper, filter: string): string[] {
  const [old, anew] = [profileOf(from, filter)?.rangeR, profileOf(to, filter)?.rangeR];
  if (old === undefined || anew === undefined) return [];
  if (Math.abs(old.value - anew.value) < ALIKE_R)
    return [
      `through ${filterText(filter)} both papers have nearly the same range, R${old.value.toFixed(0)} and R${anew.value.toFixed(0)}`,
    ];
  const nearest = to.profile.filters
    .filter(({ rangeR }) => rangeR !== undefined)
    .reduce((best, each) => (apart(each.rangeR!, old) < apart(best.rangeR!, old) ? each : best));
  const advice =
    nearest.filter === filter
      ? 'and none that was measured comes nearer'
      : `${filterText(nearest.filter)} comes nearest, R${nearest.rangeR!.value.toFixed(0)} (${nearest.rangeR!.low.toFixed(0)} to ${nearest.rangeR!.high.toFixed(0)})`;
  return [
    `through ${filterText(filter)} the range was R${old.value.toFixed(0)} and will be R${anew.value.toFixed(0)} (${anew.low.toFixed(0)} to ${anew.high.toFixed(0)}): ${advice}`,
  ];
}

function apart(one: Interval, other: Interval): number {
  return Math.abs(one.value - other.value);
}
