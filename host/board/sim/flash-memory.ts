import { limits } from '../../../shared-protocol/limits.js';

const ERASED = 0xff;

/** Typical busy times of a small serial NOR chip, in microseconds (from memory; datasheets allow 3 ms and 400 ms). */
export const flashTimesUs = { program: 400, erase: 45_000 } as const;

/** The supply failed: the operation under way is done in part, and nothing works until `restorePower`. */
export class PowerCut extends Error {
  override readonly name = 'PowerCut';
}

/**
 * The storage region of a board's NOR flash: erased bytes are 0xFF, programming only clears bits and stays
 * inside one page, erasing sets a whole sector.
 *
 * Faults can be injected: a power cut before or inside any operation, bits that rot, sectors that wear out.
 * Reading out of range, or programming over a page's edge, is a mistake of the caller and throws RangeError.
 */
export class FlashMemory {
  /** Erases of each sector so far, to judge how evenly the wear is spread. */
  readonly erases: Uint32Array;
  /** Programs and erases so far, those that the power cut into included. */
  operations = 0;

  readonly #bytes: Uint8Array;
  readonly #wornOut = new Set<number>();
  #cutAt: number | undefined;
  #bitDone: () => boolean = () => false;
  #powered = true;

  /** What is on it from the start; it is this flash's own from now on. */
  constructor(bytes: Uint8Array = erasedBytes()) {
    this.erases = new Uint32Array(bytes.length / limits.sectorBytes);
    this.#bytes = bytes;
  }

  get size(): number {
    return this.#bytes.length;
  }

  /** A copy of `length` bytes at `offset`. */
  read(offset: number, length: number): Uint8Array {
    this.#check(offset, length);
    return this.#bytes.slice(offset, offset + length);
  }

  /** Clears the bits that are 0 in `data`; false when the bytes do not read back as asked. */
  program(offset: number, data: Uint8Array): boolean {
    this.#check(offset, data.length);
    if ((offset % limits.pageBytes) + data.length > limits.pageBytes) {
      throw new RangeError(`programming ${data.length} bytes at ${offset} crosses the edge of a page`);
    }
    this.#change(offset, data, (before, wanted) => before & wanted);
    return data.every((byte, index) => this.#bytes[offset + index] === byte);
  }

  /** Sets the sector at `offset` to 0xFF; false when it does not read back so. */
  erase(offset: number): boolean {
    this.#check(offset, limits.sectorBytes);
    if (offset % limits.sectorBytes !== 0) throw new RangeError(`no sector begins at ${offset}`);
    this.erases[offset / limits.sectorBytes]!++;
    this.#change(offset, erasedBytes(limits.sectorBytes), () => ERASED);
    return !this.#wornOut.has(offset / limits.sectorBytes);
  }

  /**
   * Cuts the power inside the operation that comes after `operations` more; `bitDone` is asked once for each
   * bit which that operation would change. Answering false throughout is a cut just before it.
   */
  cutPowerAfter(operations: number, bitDone: () => boolean): void {
    this.#cutAt = this.operations + operations;
    this.#bitDone = bitDone;
  }

  /** Power is back, and a planned cut that was not reached is called off. */
  restorePower(): void {
    this.#powered = true;
    this.#cutAt = undefined;
  }

  /** Rot at rest: turns over the bits of `mask` in the byte at `offset`. */
  flipBits(offset: number, mask: number): void {
    this.#check(offset, 1);
    this.store(offset, Uint8Array.of(this.#bytes[offset]! ^ mask));
  }

  /** From now on nothing can be changed in this sector, and operations on it fail. */
  wearOut(sector: number): void {
    this.#wornOut.add(sector);
  }

  /** Everything stored, as it stands; `load` brings it back. */
  image(): Uint8Array {
    return this.#bytes.slice();
  }

  load(image: Uint8Array): void {
    this.#check(0, image.length);
    this.store(0, image);
  }

  /** Lets go of whatever keeps the content. */
  close(): void {}

  /** Bytes change: the one place where they do. */
  protected store(offset: number, bytes: Uint8Array): void {
    this.#bytes.set(bytes, offset);
  }

  #change(offset: number, wanted: Uint8Array, rule: (before: number, wanted: number) => number): void {
    if (!this.#powered) throw new PowerCut('the flash has no power');
    const cut = this.operations++ === this.#cutAt;
    if (this.#wornOut.has(Math.floor(offset / limits.sectorBytes))) return;
    const after = wanted.map((byte, index) => rule(this.#bytes[offset + index]!, byte));
    if (cut) this.#tear(offset, after);
    this.store(offset, after);
  }

  #tear(offset: number, after: Uint8Array): never {
    const torn = after.map((byte, index) => tornByte(this.#bytes[offset + index]!, byte, this.#bitDone));
    this.store(offset, torn);
    this.#powered = false;
    throw new PowerCut(`the power was cut inside flash operation ${this.operations - 1}`);
  }

  #check(offset: number, length: number): void {
    if (offset < 0 || length < 0 || offset + length > this.#bytes.length) {
      throw new RangeError(`bytes ${offset}..${offset + length} are outside the storage region`);
    }
  }
}

function tornByte(before: number, after: number, bitDone: () => boolean): number {
  let torn = before;
  for (let mask = 1; mask <= 0x80; mask <<= 1) {
    if (((before ^ after) & mask) !== 0 && bitDone()) torn ^= mask;
  }
  return torn;
}

/** A region, or so much of one, with nothing on it. */
export function erasedBytes(size: number = limits.storageBytes): Uint8Array {
  return new Uint8Array(size).fill(ERASED);
}
