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
  readonly #covariance: readonly (readonly number[])[];
  /** Mean square of the deviations of what was seen, by its doubts, over what is left free. */
  readonly scatter: number;
  /** Natural logarithm of how likely the model makes what was seen, to a constant that models with alike unknowns share (Laplace's method). */
  readonly evidence: number;

  constructor(
    at: ReadonlyMap<string, number>,
    values: readonly number[],
    covariance: readonly (readonly number[])[],
    scatter: number,
    evidence: number,
  ) {
    this.#at = at;
    this.#values = values;
    this.#covariance = covariance;
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
    let variance = 0;
    for (const [one, timesOne] of times)
      for (const [other, timesOther] of times)
        variance += timesOne * timesOther * this.#covariance[this.#at.get(one)!]![this.#at.get(other)!]!;
    return Math.sqrt(Math.max(0, variance));
  }
}

/** The values that go best with what was seen and with what was known before: Gauss and Newton's steps, weights by Huber. */
export function estimate(unknowns: readonly Unknown[], observations: readonly Observation[]): Estimate {
  const at = new Map(unknowns.map(({ name }, index) => [name, index]));
  const indexed = observations.map((each) => ({ ...each, at: each.uses.map((name) => at.get(name)!) }));
  let values = unknowns.map(({ start, prior }) => start ?? prior);
  for (let round = 0; round < ROUNDS; round++) {
    const { matrix, right } = normalEquations(unknowns, indexed, values);
    const step = inverse(matrix).map((row) =>
      row.reduce((sum, each, index) => sum + each * right[index]!, 0),
    );
    values = values.map(
      (value, index) => value + within(step[index]!, LONGEST_STEP * unknowns[index]!.spread),
    );
    if (step.every((each, index) => Math.abs(each) < ENOUGH * unknowns[index]!.spread)) break;
  }
  const { matrix, squares } = normalEquations(unknowns, indexed, values);
  const scatter = squares / Math.max(1, observations.length);
  const evidence = -(squares + squaresBefore(unknowns, values) + logDeterminant(matrix)) / 2;
  return new Estimate(at, values, inverse(matrix), scatter, evidence);
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
  readonly matrix: number[][];
  readonly right: number[];
  readonly squares: number;
}

/** The normal equations at these values. */
function normalEquations(
  unknowns: readonly Unknown[],
  observations: readonly Indexed[],
  values: readonly number[],
): Equations {
  const matrix = unknowns.map(({ spread }, index) => {
    const row = new Array<number>(unknowns.length).fill(0);
    row[index] = 1 / spread ** 2;
    return row;
  });
  const right = unknowns.map(({ prior, spread }, index) => (prior - values[index]!) / spread ** 2);
  let squares = 0;
  for (const { model, at, seen, doubt } of observations) {
    const taken = at.map((index) => values[index]!);
    const told = model(taken);
    const miss = (seen - told) / doubt;
    const weight = Math.min(1, MOST_DEVIATIONS / Math.abs(miss)) / doubt ** 2;
    squares += Math.min(1, MOST_DEVIATIONS / Math.abs(miss)) * miss ** 2;
    const slopes = taken.map((value, which) => {
      taken[which] = value + SMALL;
      const slope = (model(taken) - told) / SMALL;
      taken[which] = value;
      return slope;
    });
    at.forEach((row, one) => {
      at.forEach((column, other) => {
        matrix[row]![column]! += weight * slopes[one]! * slopes[other]!;
      });
      right[row]! += weight * slopes[one]! * (seen - told);
    });
  }
  return { matrix, right, squares };
}

/** Gauss and Jordan's, in place; the normal equations with their priors are positive definite, so no pivot is looked for. */
function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const rows = matrix.map((row) => [...row]);
  for (let pivot = 0; pivot < rows.length; pivot++) {
    const own = rows[pivot]!;
    const by = 1 / own[pivot]!;
    own[pivot] = 1;
    for (let column = 0; column < own.length; column++) own[column]! *= by;
    rows.forEach((row, at) => {
      if (at === pivot) return;
      const times = row[pivot]!;
      row[pivot] = 0;
      for (let column = 0; column < row.length; column++) row[column]! -= times * own[column]!;
    });
  }
  return rows;
}

/** Natural logarithm, by Gauss's elimination. */
function logDeterminant(matrix: readonly (readonly number[])[]): number {
  const rows = matrix.map((row) => [...row]);
  return rows.reduce((sum, own, pivot) => {
    for (const row of rows.slice(pivot + 1)) {
      const times = row[pivot]! / own[pivot]!;
      for (let column = pivot; column < row.length; column++) row[column]! -= times * own[column]!;
    }
    return sum + Math.log(own[pivot]!);
  }, 0);
}
