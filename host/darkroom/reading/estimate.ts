import { SparseFactors } from './sparse-factors.js';

/** A figure that is looked for, and what is known of it before anything is read: one standard deviation about a value. */
export interface Unknown {
  readonly name: string;
  readonly prior: number;
  readonly spread: number;
  /** Where to begin; the prior's value where left out. */
  readonly start?: number;
}

/** Something seen, of which a model tells what it should be. */
export interface Observation {
  /** Names of the unknowns that the model goes by, in the order in which it takes them. */
  readonly uses: readonly string[];
  readonly model: (values: readonly number[]) => number;
  readonly seen: number;
  /** One standard deviation. */
  readonly doubt: number;
}

/** Beyond so many deviations one counts less (Huber's weights; the figure from memory). */
const MOST_DEVIATIONS = 2.5;
const ROUNDS = 12;
const SMALL = 1e-5;
/** No step goes further than so much of what was known before. */
const LONGEST_STEP = 0.7;
const ENOUGH = 1e-4;

/** Values and how they may be off together. */
export class Estimate {
  readonly #at: ReadonlyMap<string, number>;
  readonly #values: readonly number[];
  readonly #factors: SparseFactors;
  /** Mean square of the deviations of what was seen, by its doubts, over what is left free. */
  readonly scatter: number;
  /** Natural logarithm of how likely the model makes what was seen, to a constant that models with alike unknowns share (Laplace's method). */
  readonly evidence: number;

  constructor(
    at: ReadonlyMap<string, number>,
    values: readonly number[],
    factors: SparseFactors,
    scatter: number,
    evidence: number,
  ) {
    this.#at = at;
    this.#values = values;
    this.#factors = factors;
    this.scatter = scatter;
    this.evidence = evidence;
  }

  has(name: string): boolean {
    return this.#at.has(name);
  }

  value(name: string): number {
    return this.#values[this.#at.get(name)!]!;
  }

  /** One standard deviation of a sum of unknowns, each so many times. */
  deviation(times: ReadonlyMap<string, number>): number {
    const each = new Map([...times].map(([name, count]) => [this.#at.get(name)!, count]));
    return Math.sqrt(Math.max(0, this.#factors.between(each, each)));
  }

  /**
   * What further unknowns would be after one step from here.
   * @param observations those among the ones that were seen that would go by them, as they would.
   */
  further(unknowns: readonly Unknown[], observations: readonly Observation[]): Figures {
    const prior = new Map(unknowns.map((each) => [each.name, each.prior]));
    const rows = unknowns.map(({ spread }, at) => new Map([[at, 1 / spread ** 2]]));
    const right = unknowns.map(() => 0);
    const meets = unknowns.map(() => new Map<number, number>());
    for (const { uses, model, seen, doubt } of observations) {
      const values = uses.map((each) => prior.get(each) ?? this.value(each));
      const told = model(values);
      const slopes = slopesOf(model, values, told);
      const weight = weightOf((seen - told) / doubt);
      unknowns.forEach(({ name }, one) => {
        const times = (weight * slopes[uses.indexOf(name)]!) / doubt ** 2;
        right[one]! += times * (seen - told);
        uses.forEach((each, which) => {
          const at = this.#at.get(each);
          if (at !== undefined) addTo(meets[one]!, at, times * slopes[which]!);
          const other = unknowns.findIndex((unknown) => unknown.name === each);
          if (other >= 0) addTo(rows[one]!, other, times * slopes[which]!);
        });
      });
    }
    meets.forEach((one, at) => {
      meets.forEach((other, column) => {
        addTo(rows[at]!, column, -this.#factors.between(one, other));
      });
    });
    const factors = new SparseFactors(rows);
    const step = factors.solved(right);
    const at = (name: string) => unknowns.findIndex((each) => each.name === name);
    return {
      value: (name) => prior.get(name)! + step[at(name)]!,
      deviation: (times) => {
        const each = new Map([...times].map(([name, count]) => [at(name), count]));
        return Math.sqrt(factors.between(each, each));
      },
    };
  }
}

/** Values by their names, and one standard deviation of a sum of them, each so many times. */
export type Figures = Pick<Estimate, 'value' | 'deviation'>;

function addTo(row: Map<number, number>, at: number, more: number): void {
  row.set(at, (row.get(at) ?? 0) + more);
}

/** The values that go best with what was seen and with what was known before: Gauss and Newton's steps, weights by Huber. */
export function estimate(unknowns: readonly Unknown[], observations: readonly Observation[]): Estimate {
  const at = new Map(unknowns.map(({ name }, index) => [name, index]));
  const indexed = observations.map((each) => ({ ...each, at: each.uses.map((name) => at.get(name)!) }));
  let values = unknowns.map(({ start, prior }) => start ?? prior);
  for (let round = 0; round < ROUNDS; round++) {
    const { rows, right } = normalEquations(unknowns, indexed, values);
    const step = new SparseFactors(rows).solved(right);
    values = values.map(
      (value, index) => value + within(step[index]!, LONGEST_STEP * unknowns[index]!.spread),
    );
    if (step.every((each, index) => Math.abs(each) < ENOUGH * unknowns[index]!.spread)) break;
  }
  const { rows, squares } = normalEquations(unknowns, indexed, values);
  const scatter = squares / Math.max(1, observations.length);
  const factors = new SparseFactors(rows);
  const evidence = -(squares + squaresBefore(unknowns, values) + factors.logDeterminant) / 2;
  return new Estimate(at, values, factors, scatter, evidence);
}

function squaresBefore(unknowns: readonly Unknown[], values: readonly number[]): number {
  return unknowns.reduce((sum, { prior, spread }, at) => sum + ((values[at]! - prior) / spread) ** 2, 0);
}

function within(step: number, most: number): number {
  return Math.min(most, Math.max(-most, step));
}

interface Indexed extends Observation {
  readonly at: readonly number[];
}

interface Equations {
  readonly rows: Map<number, number>[];
  readonly right: number[];
  readonly squares: number;
}

/** What something seen so many deviations off counts for (Huber). */
function weightOf(deviations: number): number {
  return Math.min(1, MOST_DEVIATIONS / Math.abs(deviations));
}

/** The normal equations at these values. */
function normalEquations(
  unknowns: readonly Unknown[],
  observations: readonly Indexed[],
  values: readonly number[],
): Equations {
  const rows = unknowns.map(({ spread }, index) => new Map([[index, 1 / spread ** 2]]));
  const right = unknowns.map(({ prior, spread }, index) => (prior - values[index]!) / spread ** 2);
  let squares = 0;
  for (const { model, at, seen, doubt } of observations) {
    const taken = at.map((index) => values[index]!);
    const told = model(taken);
    const miss = (seen - told) / doubt;
    const weight = weightOf(miss) / doubt ** 2;
    squares += weightOf(miss) * miss ** 2;
    const slopes = slopesOf(model, taken, told);
    at.forEach((index, one) => {
      const row = rows[index]!;
      const times = weight * slopes[one]!;
      at.forEach((column, other) => {
        addTo(row, column, times * slopes[other]!);
      });
      right[index]! += times * (seen - told);
    });
  }
  return { rows, right, squares };
}

function slopesOf(model: Observation['model'], values: number[], told: number): number[] {
  return values.map((value, which) => {
    values[which] = value + SMALL;
    const slope = (model(values) - told) / SMALL;
    values[which] = value;
    return slope;
  });
}
