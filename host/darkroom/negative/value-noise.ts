/** Seeded noise for made-up scenery: the same seed gives the same lake on every machine. */
export class ValueNoise {
  readonly #seed: number;

  constructor(seed: number) {
    this.#seed = seed | 0;
  }

  /** 0 to 1, independent from one lattice point to the next: Jenkins' integer finaliser of the coordinates. */
  at(column: number, row: number): number {
    let hash = (Math.imul(column, 0x9e3779b1) ^ Math.imul(row, 0x85ebca6b)) + this.#seed;
    hash = Math.imul(hash ^ (hash >>> 16), 0x7feb352d);
    hash = Math.imul(hash ^ (hash >>> 15), 0x846ca68b);
    return ((hash ^ (hash >>> 16)) >>> 0) / 0x1_0000_0000;
  }

  /** -1 to 1, smooth between lattice points. */
  smooth(x: number, y: number): number {
    const column = Math.floor(x);
    const row = Math.floor(y);
    const acrossShare = ease(x - column);
    const upper = mix(this.at(column, row), this.at(column + 1, row), acrossShare);
    const lower = mix(this.at(column, row + 1), this.at(column + 1, row + 1), acrossShare);
    return 2 * mix(upper, lower, ease(y - row)) - 1;
  }

  /** -1 to 1: `octaves` of smooth noise, each twice as fine and half as strong. */
  layered(x: number, y: number, octaves: number): number {
    let sum = 0;
    let strength = 0.5;
    let scale = 1;
    for (let octave = 0; octave < octaves; octave++) {
      sum += strength * this.smooth(x * scale + 17 * octave, y * scale - 31 * octave);
      strength /= 2;
      scale *= 2;
    }
    return sum;
  }
}

export function mix(from: number, to: number, share: number): number {
  return from + (to - from) * share;
}

function ease(share: number): number {
  return share * share * (3 - 2 * share);
}
