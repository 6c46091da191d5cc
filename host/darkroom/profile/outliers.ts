import { type Estimate, estimate } from '../reading/estimate.js';
import { paperProblem, type StartValues, startValues, unknownNames } from './paper-model.js';
import type { NumberedStrip } from './strips.js';

/** A strip that does not go with the others of its paper. */
export interface Outlier {
  readonly number: number;
  readonly of: 'range' | 'speed';
  /** From what the others say: in deviations; and as a share of ISO R, or in stops. */
  readonly deviations: number;
  readonly off: number;
  /** Two alone that disagree stay in, since none can say which is wrong. */
  readonly isLeftOut: boolean;
}

/** Further from what the others say than 997 of 1,000 are. */
const MOST_DEVIATIONS = 3;
/** So many must speak against one for it to be left out. */
const LEAST_OTHERS = 2;
/** What a strip's range and speed differ by although nothing is wrong: where on the curve its patches lie; no source. */
const USUAL_RANGE_SHARE = 0.03;
const USUAL_STOPS = 0.03;
const STOPS_OF_LOG = 1 / Math.log10(2);

/** The strips to go by, and those that do not go with them, the furthest first. */
export function sortOut(strips: readonly NumberedStrip[]): {
  readonly taken: readonly NumberedStrip[];
  readonly outliers: readonly Outlier[];
} {
  const begin = startValues(strips);
  const outliers: Outlier[] = [];
  let taken = strips;
  for (;;) {
    const furthest = furthestOf(taken, begin);
    if (furthest === undefined || Math.abs(furthest.deviations) <= MOST_DEVIATIONS)
      return { taken, outliers };
    outliers.push(furthest);
    if (!furthest.isLeftOut) return { taken, outliers };
    taken = taken.filter(({ number }) => number !== furthest.number);
  }
}

function furthestOf(strips: readonly NumberedStrip[], begin: StartValues): Outlier | undefined {
  const { unknowns, observations } = paperProblem(strips, undefined, begin);
  const together = estimate(unknowns, observations);
  return strips
    .flatMap((strip) => offOf(strip, strips, begin, together))
    .sort((one, other) => Math.abs(other.deviations) - Math.abs(one.deviations))[0];
}

/** A strip is given a range and a speed of its own: how far these lie from its filter's says how well it goes with the others. */
function offOf(
  { number, reading }: NumberedStrip,
  strips: readonly NumberedStrip[],
  begin: StartValues,
  together: Estimate,
): Outlier[] {
  const others = strips.filter((other) => other.number !== number && other.reading.filter === reading.filter);
  if (others.length === 0) return [];
  const { unknowns, observations } = paperProblem(strips, number, begin);
  const from = unknowns.map((each) =>
    together.has(each.name) ? { ...each, start: together.value(each.name) } : each,
  );
  const fit = estimate(from, observations);
  const off = (what: 'range' | 'speed', unit: number, usual: number): Outlier => {
    const name = unknownNames.ofStrip(number, what);
    const value = unit * fit.value(name);
    const deviation = unit * fit.deviation(new Map([[name, 1]]));
    const isLeftOut = others.length >= LEAST_OTHERS;
    return { number, of: what, off: value, deviations: value / Math.hypot(deviation, usual), isLeftOut };
  };
  return [off('range', 1, USUAL_RANGE_SHARE), off('speed', STOPS_OF_LOG, USUAL_STOPS)];
}
