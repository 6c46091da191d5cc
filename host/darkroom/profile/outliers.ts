import { type Estimate, estimate, type Figures } from '../reading/estimate.js';
import { observationsOf, ofItsOwn, paperProblem, unknownNames } from './paper-model.js';
import type { StartValues } from './start-values.js';
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

/** Of so many strips one at a time goes; of more, as many more, so that a hundred bad ones of a thousand are not a hundred fits. */
const STRIPS_A_TURN = 20;
/** Strips that may be the furthest off by one step: they are fitted to the end. */
const FITTED_TO_THE_END = 3;
/** One step tells nearly as many deviations as all of them do: below this none is looked at again. */
const WORTH_FITTING = MOST_DEVIATIONS / 2;

/** The strips to go by, and those that do not go with them, the furthest first. */
export function sortOut(
  strips: readonly NumberedStrip[],
  begin: StartValues,
): {
  readonly taken: readonly NumberedStrip[];
  readonly outliers: readonly Outlier[];
} {
  const outliers: Outlier[] = [];
  let taken = strips;
  for (;;) {
    const far = furthestOf(taken, begin).filter(({ deviations }) => Math.abs(deviations) > MOST_DEVIATIONS);
    const [furthest] = far;
    if (furthest === undefined) return { taken, outliers };
    if (!furthest.isLeftOut) return { taken, outliers: [...outliers, furthest] };
    const together = far
      .filter(({ isLeftOut }) => isLeftOut)
      .slice(0, Math.ceil(taken.length / STRIPS_A_TURN));
    outliers.push(...together);
    const gone = new Set(together.map(({ number }) => number));
    taken = taken.filter(({ number }) => !gone.has(number));
  }
}

/** How the strips lie to what the others say, the furthest first: by one step from the fit of all, the foremost by a whole fit. */
function furthestOf(strips: readonly NumberedStrip[], begin: StartValues): Outlier[] {
  const { unknowns, observations, light } = paperProblem(strips, undefined, begin);
  const together = estimate(unknowns, observations);
  const counts = new Map<string, number>();
  for (const { reading } of strips) counts.set(reading.filter, (counts.get(reading.filter) ?? 0) + 1);
  const othersOf = ({ reading }: NumberedStrip) => counts.get(reading.filter)! - 1;
  const near = strips
    .filter((strip) => othersOf(strip) > 0)
    .map((strip) => {
      const apart = observationsOf(strip, { light, begin, isApart: true });
      const figures = together.further(ofItsOwn(strip.number), apart);
      return { strip, outlier: offOf(strip.number, othersOf(strip), figures) };
    })
    .filter(({ outlier }) => Math.abs(outlier.deviations) > WORTH_FITTING)
    .sort((one, other) => furtherFirst(one.outlier, other.outlier));
  return near
    .map(({ strip, outlier }, at) =>
      at < FITTED_TO_THE_END
        ? offOf(strip.number, othersOf(strip), fitApart(strip.number, strips, begin, together))
        : outlier,
    )
    .sort(furtherFirst);
}

function furtherFirst(one: Outlier, other: Outlier): number {
  return Math.abs(other.deviations) - Math.abs(one.deviations);
}

function fitApart(
  number: number,
  strips: readonly NumberedStrip[],
  begin: StartValues,
  together: Estimate,
): Estimate {
  const { unknowns, observations } = paperProblem(strips, number, begin);
  const from = unknowns.map((each) =>
    together.has(each.name) ? { ...each, start: together.value(each.name) } : each,
  );
  return estimate(from, observations);
}

/** A strip is given a range and a speed of its own: how far these lie from its filter's says how well it goes with the others. */
function offOf(number: number, others: number, fit: Figures): Outlier {
  const off = (what: 'range' | 'speed', unit: number, usual: number): Outlier => {
    const name = unknownNames.ofStrip(number, what);
    const value = unit * fit.value(name);
    const deviation = unit * fit.deviation(new Map([[name, 1]]));
    const isLeftOut = others >= LEAST_OTHERS;
    return { number, of: what, off: value, deviations: value / Math.hypot(deviation, usual), isLeftOut };
  };
  const [first] = [off('range', 1, USUAL_RANGE_SHARE), off('speed', STOPS_OF_LOG, USUAL_STOPS)].sort(
    furtherFirst,
  );
  return first!;
}
