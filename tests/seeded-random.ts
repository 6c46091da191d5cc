/** Draws that one number determines, so that a printed seed brings any run back. */
export class SeededRandom {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 0;
  }

  /** 0 .. 2^32 - 1, by the mixing step of SplitMix's 32-bit relative (public domain; from memory). */
  next(): number {
    this.#state = (this.#state + 0x9e3779b9) | 0;
    let mixed = this.#state ^ (this.#state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  }

  /** A whole number from 0 up to, and without, `below`. */
  readonly below = (below: number): number => Math.floor((this.next() / 0x1_0000_0000) * below);

  /** A whole number from `low` up to and with `high`. */
  between(low: number, high: number): number {
    return low + this.below(high - low + 1);
  }

  /** True with this probability. */
  chance(probability: number): boolean {
    return this.next() < probability * 0x1_0000_0000;
  }

  pick<Item>(items: readonly Item[]): Item {
    return items[this.below(items.length)]!;
  }

  /** Many small ones, few large: exponential with this mean. */
  around(mean: number): number {
    return -mean * Math.log((this.next() + 1) / 0x1_0000_0000);
  }
}
