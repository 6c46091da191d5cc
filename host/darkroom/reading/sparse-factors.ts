/** Symmetric: of each unknown its own factor, and those of the unknowns that it meets, each pair in both rows. */
export type SparseRows = readonly Map<number, number>[];

/**
 * Positive definite equations taken apart into L D L' (Cholesky's way, without roots), the unknowns that meet the fewest first: what
 * belongs to one strip alone falls out at once, and only what many share is left for the costly end.
 */
export class SparseFactors {
  readonly #order: readonly number[];
  readonly #pivots: Float64Array;
  /** Below each pivot: unknowns that come later, and how many times the pivot's row goes off theirs. */
  readonly #below: readonly (readonly (readonly [unknown: number, times: number])[])[];

  /** @param rows is used up. */
  constructor(rows: SparseRows) {
    this.#order = rows.map((_, at) => at).sort((one, other) => rows[one]!.size - rows[other]!.size);
    this.#pivots = new Float64Array(rows.length);
    const below = new Map(this.#order.map((at) => [at, this.#takeOut(rows, at)]));
    this.#below = rows.map((_, at) => below.get(at)!);
  }

  #takeOut(rows: SparseRows, at: number): (readonly [number, number])[] {
    const pivot = rows[at]!.get(at)!;
    this.#pivots[at] = pivot;
    const met = [...rows[at]!].filter(([other]) => other !== at);
    for (const [one, factor] of met) {
      const row = rows[one]!;
      const times = factor / pivot;
      row.delete(at);
      for (const [other, own] of met) row.set(other, (row.get(other) ?? 0) - times * own);
    }
    return met.map(([other, factor]) => [other, factor / pivot]);
  }

  get logDeterminant(): number {
    return this.#pivots.reduce((sum, pivot) => sum + Math.log(pivot), 0);
  }

  /** What the equations give for these right sides. */
  solved(right: readonly number[]): Float64Array {
    const values = this.#forward(right);
    for (let at = 0; at < values.length; at++) values[at]! /= this.#pivots[at]!;
    for (const at of [...this.#order].reverse())
      for (const [other, times] of this.#below[at]!) values[at]! -= times * values[other]!;
    return values;
  }

  /** What the inverse gives between these two: a covariance, where the equations are normal ones. */
  between(one: ReadonlyMap<number, number>, other: ReadonlyMap<number, number>): number {
    const [left, right] = [this.#forwardOf(one), this.#forwardOf(other)];
    return left.reduce((sum, each, at) => sum + (each * right[at]!) / this.#pivots[at]!, 0);
  }

  #forwardOf(sparse: ReadonlyMap<number, number>): Float64Array {
    const right = new Float64Array(this.#order.length);
    for (const [at, value] of sparse) right[at] = value;
    return this.#forward(right);
  }

  #forward(right: ArrayLike<number>): Float64Array {
    const values = Float64Array.from(right);
    for (const at of this.#order)
      if (values[at] !== 0)
        for (const [other, times] of this.#below[at]!) values[other]! -= times * values[at]!;
    return values;
  }
}
