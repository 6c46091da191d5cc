/** RP2040 datasheet section 2.6.3: 16 KiB, two ways, lines of 8 bytes. */
const LINE_SHIFT = 3;
const SETS = 1024;
const NONE = 0xffff_ffff;
/** Flash clocks for a line and for a word: 8 for the address and its mode, 4 to wait, then 8 for each word. */
const LINE_CLOCKS = 28;
const WORD_CLOCKS = 20;
/** Between the bus and the first clock and back (from memory). */
const BUS_CYCLES = 12;

/** How long the processor waits for the flash: the emulator's is free, a real one is the slowest part of the board. */
export class FlashCache {
  misses = 0;
  readonly #lines = new Uint32Array(SETS * 2).fill(NONE);
  readonly #older = new Uint8Array(SETS);

  /** System cycles that a read through the cache has to wait. */
  readCycles(address: number, divider: number): number {
    const line = address >>> LINE_SHIFT;
    const set = line & (SETS - 1);
    if (this.#lines[set * 2] === line) {
      this.#older[set] = 1;
      return 0;
    }
    if (this.#lines[set * 2 + 1] === line) {
      this.#older[set] = 0;
      return 0;
    }
    this.misses++;
    const way = this.#older[set]!;
    this.#lines[set * 2 + way] = line;
    this.#older[set] = 1 - way;
    return LINE_CLOCKS * divider + BUS_CYCLES;
  }

  /** System cycles for a word past the cache. */
  static wordCycles(divider: number): number {
    return WORD_CLOCKS * divider + BUS_CYCLES;
  }
}
