import { solved } from '../normal-equations.js';

/** A place of the curve: log10 of the exposure, the density that it gave, and how much it counts. */
export interface ToneSample {
  readonly log: number;
  readonly density: number;
  readonly weight: number;
}

/** In log10 of the exposure: half a stop, for wider pieces round off where paper begins and where it is black. */
const PIECE_LOG = 0.15;
const LEAST_PIECES = 8;
/** How much a bend costs, next to samples that weigh one each per piece. */
const BEND_PRICE = 0.01;

/**
 * A smooth curve through samples, without a model of the paper: cubic B-splines whose bends have a price.
 * P. H. C. Eilers, B. D. Marx, 'Flexible smoothing with B-splines and penalties', Statistical Science 11 (1996), from memory.
 */
export class ToneCurve {
  readonly fromLog: number;
  readonly toLog: number;
  readonly #pieces: number;
  readonly #weights: readonly number[];

  constructor(samples: readonly ToneSample[]) {
    const logs = samples.map(({ log }) => log);
    this.fromLog = Math.min(...logs);
    this.toLog = Math.max(...logs) + 1e-6;
    this.#pieces = Math.max(LEAST_PIECES, Math.ceil((this.toLog - this.fromLog) / PIECE_LOG));
    this.#weights = this.#fit(samples);
  }

  at(log: number): number {
    const [first, shares] = this.#basis(log);
    return shares.reduce((sum, share, at) => sum + share * this.#weights[first + at]!, 0);
  }

  /** Sum of squares of what the samples miss it by, and of what its bends cost. */
  missOf(samples: readonly ToneSample[]): number {
    const misses = samples.reduce(
      (sum, { log, density, weight }) => sum + weight * (density - this.at(log)) ** 2,
      0,
    );
    const total = samples.reduce((sum, { weight }) => sum + weight, 0);
    return misses + ((BEND_PRICE * total) / this.#pieces) * this.#bends();
  }

  #bends(): number {
    const w = this.#weights;
    return w.slice(2).reduce((sum, each, at) => sum + (each - 2 * w[at + 1]! + w[at]!) ** 2, 0);
  }

  #fit(samples: readonly ToneSample[]): number[] {
    const count = this.#pieces + 3;
    const rows = Array.from({ length: count }, () => new Array<number>(count + 1).fill(0));
    let total = 0;
    for (const { log, density, weight } of samples) {
      const [first, shares] = this.#basis(log);
      total += weight;
      for (let row = 0; row < 4; row++) {
        const line = rows[first + row]!;
        const share = weight * shares[row]!;
        for (let column = 0; column < 4; column++) line[first + column]! += share * shares[column]!;
        line[count]! += share * density;
      }
    }
    const price = (BEND_PRICE * total) / this.#pieces;
    for (let at = 0; at + 2 < count; at++)
      for (let row = 0; row < 3; row++)
        for (let column = 0; column < 3; column++)
          rows[at + row]![at + column]! += price * BEND[row]! * BEND[column]!;
    for (let at = 0; at < count; at++) rows[at]![at]! += 1e-9 * total;
    return solved(rows);
  }

  /** The first of the four splines that reach here, and their shares. */
  #basis(log: number): readonly [first: number, shares: readonly number[]] {
    const place = Math.min(
      this.#pieces - 1e-9,
      Math.max(0, ((log - this.fromLog) / (this.toLog - this.fromLog)) * this.#pieces),
    );
    const first = Math.floor(place);
    const t = place - first;
    const rest = 1 - t;
    return [
      first,
      [
        rest ** 3 / 6,
        (3 * t ** 3 - 6 * t ** 2 + 4) / 6,
        (-3 * t ** 3 + 3 * t ** 2 + 3 * t + 1) / 6,
        t ** 3 / 6,
      ],
    ];
  }
}
const BEND = [1, -2, 1];
