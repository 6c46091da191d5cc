import { solved } from '../reading/normal-equations.js';
import { type Doubted, deviationOf, sumOf } from './doubted.js';
import { isOwn } from './strip-fit.js';

/**
 * One reading of a figure that is the sum of some unknowns: of a filter, and of a light that is not known.
 */
export interface Observation {
  readonly number: number;
  readonly of: Doubted;
  /** Names of the unknowns that it is the sum of. */
  readonly unknowns: readonly string[];
}

export interface Joined {
  /** Each unknown by its name. */
  readonly figures: ReadonlyMap<string, Doubted>;
  readonly outliers: readonly Outlier[];
}

export interface Outlier {
  readonly number: number;
  /** From what the others say, in deviations and as a figure. */
  readonly deviations: number;
  readonly off: number;
  /** Two alone that disagree stay in, since none can say which is wrong. */
  readonly isLeftOut: boolean;
}

/** Further from what the others say than 997 of 1,000 are. */
const MOST_DEVIATIONS = 3;
/** So many must speak against one for it to be left out. */
const LEAST_OTHERS = 2;

/**
 * Readings by weighted least squares, each by what it alone may be off by: errors that they share stay whole in what comes
 * out. One that lies too far from what the others say is left out, the furthest first, and named.
 */
export function join(observations: readonly Observation[], known: readonly string[] = []): Joined {
  const outliers: Outlier[] = [];
  let taken = [...observations];
  for (;;) {
    const furthest = furthestOf(taken, known);
    if (furthest === undefined || Math.abs(furthest.deviations) <= MOST_DEVIATIONS) break;
    const isLeftOut = furthest.others >= LEAST_OTHERS;
    outliers.push({ ...furthest, isLeftOut });
    if (!isLeftOut) break;
    taken = taken.filter(({ number }) => number !== furthest.number);
  }
  return { figures: scattered(taken, known), outliers };
}

interface Furthest {
  readonly number: number;
  readonly deviations: number;
  readonly off: number;
  readonly others: number;
}

function furthestOf(observations: readonly Observation[], known: readonly string[]): Furthest | undefined {
  const offs = observations.flatMap((observation) => offOf(observation, observations, known));
  return offs.reduce<Furthest | undefined>(
    (best, each) =>
      best === undefined || Math.abs(each.deviations) > Math.abs(best.deviations) ? each : best,
    undefined,
  );
}

/** How far one lies from what all others say of it; nothing where they say nothing. */
function offOf(
  { number, of, unknowns }: Observation,
  all: readonly Observation[],
  known: readonly string[],
): Furthest[] {
  const others = all.filter((each) => each.number !== number);
  const figures = leastSquares(others, known);
  if (unknowns.some((unknown) => !figures.has(unknown))) return [];
  const said = sumOf(unknowns.map((unknown) => ({ times: 1, of: figures.get(unknown)! })));
  const off = of.value - said.value;
  const deviations = off / Math.hypot(deviationOf(of, isOwn), deviationOf(said, isOwn));
  const alike = others.filter((each) => unknowns.every((unknown) => each.unknowns.includes(unknown)));
  return [{ number, deviations, off, others: alike.length }];
}

/** With what each has alone made wider where the readings scatter more than they should (R. T. Birge, Physical Review 40 (1932), from memory). */
function scattered(observations: readonly Observation[], known: readonly string[]): Map<string, Doubted> {
  const figures = leastSquares(observations, known);
  const free = observations.length - figures.size + known.length;
  const squares = observations.reduce((sum, { of, unknowns }) => {
    const said = unknowns.reduce((all, unknown) => all + (figures.get(unknown)?.value ?? 0), 0);
    return sum + ((of.value - said) / deviationOf(of, isOwn)) ** 2;
  }, 0);
  const wider = free > 0 ? Math.max(1, Math.sqrt(squares / free)) : 1;
  const widen = ({ value, shifts }: Doubted): Doubted => ({
    value,
    shifts: new Map([...shifts].map(([name, shift]) => [name, isOwn(name) ? wider * shift : shift])),
  });
  return new Map([...figures].map(([name, figure]) => [name, widen(figure)]));
}

/** The unknowns that follow; `known` ones are nought. Those that do not hang together with a known one are not told. */
function leastSquares(all: readonly Observation[], known: readonly string[]): Map<string, Doubted> {
  const figures = new Map<string, Doubted>(known.map((name) => [name, { value: 0, shifts: new Map() }]));
  const told = toldBy(all, known);
  const observations = all.filter(({ unknowns }) => unknowns.every((unknown) => told.has(unknown)));
  const names = [...told].filter((name) => !figures.has(name));
  if (names.length === 0) return figures;
  const weights = observations.map(({ of }) => 1 / deviationOf(of, isOwn) ** 2);
  const has = (at: number, name: string) => (observations[at]!.unknowns.includes(name) ? 1 : 0);
  const normal = names.map((row) =>
    names.map((column) =>
      weights.reduce((sum, weight, at) => sum + weight * has(at, row) * has(at, column), 0),
    ),
  );
  const shares = observations.map((_, at) =>
    solved(normal.map((row, index) => [...row, weights[at]! * has(at, names[index]!)])),
  );
  names.forEach((name, index) => {
    const terms = observations.map(({ of }, at) => ({ times: shares[at]![index]!, of }));
    figures.set(name, sumOf(terms));
  });
  return figures;
}

/** Unknowns that stand alone in a reading, or beside ones that are told. */
function toldBy(observations: readonly Observation[], known: readonly string[]): Set<string> {
  const told = new Set(known);
  for (let size = -1; size !== told.size; ) {
    size = told.size;
    for (const { unknowns } of observations) {
      const open = unknowns.filter((unknown) => !told.has(unknown));
      if (open.length === 1) told.add(open[0]!);
    }
  }
  return told;
}
