/** Random numbers that a seed repeats: the linear generator of Numerical Recipes, its high bits only. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = Math.imul(seed, 2_654_435_761) >>> 0;
  }

  /** A whole number from 0 to below `limit`. */
  below(limit: number): number {
    this.#state = (Math.imul(this.#state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((this.#state / 0x1_0000_0000) * limit);
  }

  /** A whole number from `low` up to and with `high`. */
  between(low: number, high: number): number {
    return low + this.below(high - low + 1);
  }

  /** From 0 to below 1. */
  share(): number {
    return this.below(0x1_0000_0000) / 0x1_0000_0000;
  }

  chance(probability: number): boolean {
    return this.below(1_000_000) < probability * 1_000_000;
  }

  bytes(length: number): Uint8Array {
    return Uint8Array.from({ length }, () => this.below(256));
  }

  pick<Item>(items: readonly Item[]): Item {
    return items[this.below(items.length)]!;
  }
}

/**
 * Seeds one after the other give first draws one after the other (0.022 apart): who averages over a row of seeds takes these
 * instead. The last steps of MurmurHash3, public domain, from memory.
 */
export function scatteredSeed(seed: number): number {
  let mixed = seed >>> 0;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85eb_ca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2_ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}
