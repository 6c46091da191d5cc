/** The memory that controller and processor share: RP2040 datasheet section 4.1.2.5; vendor's usb_dpram.h. */
const BUFFER_WORDS = 0x80;
const BUFFER_WORDS_END = 0x100;
const CONTROL_BUFFER = 0x100;
const FULL = 1 << 15;
const ODD = 1 << 13;
const BEGIN_WITH_FIRST = 1 << 12;
const STALL = 1 << 11;
const AVAILABLE = 1 << 10;
const LENGTH = 0x3ff;
const ENDPOINT_ENABLED = 1 << 31;
const ENDPOINT_DOUBLE = 1 << 30;
const ENDPOINT_EACH_BUFFER = 1 << 29;
const ENDPOINT_EVERY_SECOND = 1 << 28;
const ENDPOINT_BUFFER = 0xffff;
const HALF_BITS = 16;
const HALF = 0xffff;
/** Two buffers of a pair lie so far apart, but for isochronous ones. */
const PAIR_BYTES = 64;
/** Section 4.1.2.7.1: AVAILABLE no sooner than this after the rest of a buffer's word, at 125 MHz. */
const SETTLE_NANOS = (12 * 1e9) / 125e6;

const IN = 0;
const OUT = 1;
type Direction = typeof IN | typeof OUT;
type Half = 0 | 1;

/**
 * The buffers of the endpoints, single or in pairs, which the controller and the firmware hand to each other: AVAILABLE is
 * the controller's. Of a pair the controller takes one after the other, whichever the firmware filled first.
 */
export class UsbBuffers {
  readonly #memory: DataView;
  readonly #nowNanos: () => number;
  readonly #mistake: (words: string) => void;
  readonly #lastWrites = new Map<number, { word: number; nanos: number }>();
  /** Words as the firmware made them available, AVAILABLE while they are the controller's. */
  readonly #owned = new Map<number, number>();
  readonly #next = new Map<number, Half>();
  /** Of each buffer word, the halves that are done and that the firmware has not heeded. */
  readonly #done = new Map<number, Half[]>();

  constructor(memory: DataView, nowNanos: () => number, mistake: (words: string) => void) {
    this.#memory = memory;
    this.#nowNanos = nowNanos;
    this.#mistake = mistake;
  }

  reset(): void {
    this.#lastWrites.clear();
    this.#owned.clear();
    this.#next.clear();
    this.#done.clear();
  }

  /** BUFF_STATUS: a bit for each buffer word. */
  get done(): number {
    return this.#bits(() => true);
  }

  /** BUFF_CPU_SHOULD_HANDLE: where it is the second of a pair. */
  get doneSecond(): number {
    return this.#bits((halves) => halves[0] === 1);
  }

  /** The firmware has heeded these; where the other of a pair is done too, the bit comes back. */
  heed(bits: number): void {
    for (const [number, halves] of this.#done) if (bits & (1 << number)) halves.shift();
  }

  isOpen(endpoint: number, direction: Direction): boolean {
    return endpoint === 0 || (this.#control(endpoint, direction) & ENDPOINT_ENABLED) !== 0;
  }

  stalls(endpoint: number, direction: Direction): boolean {
    return (this.#half(endpoint, direction) & STALL) !== 0;
  }

  /** The packet that is offered for sending. */
  take(endpoint: number): { bytes: Uint8Array; odd: boolean } | undefined {
    const word = this.#half(endpoint, IN);
    if ((word & AVAILABLE) === 0) return undefined;
    if ((word & FULL) === 0) this.#tell(endpoint, 'an empty buffer was offered for sending');
    const from = this.#bufferAt(endpoint, IN);
    const bytes = new Uint8Array(this.#memory.buffer.slice(from, from + (word & LENGTH)));
    return { bytes, odd: (word & ODD) !== 0 };
  }

  /** That packet has arrived. */
  gone(endpoint: number, tells: boolean): void {
    this.#finish(endpoint, IN, this.#half(endpoint, IN) & ~(AVAILABLE | FULL), tells);
  }

  /** What may come, if anything may. */
  room(endpoint: number): { bytes: number; odd: boolean } | undefined {
    const word = this.#half(endpoint, OUT);
    if ((word & AVAILABLE) === 0) return undefined;
    if ((word & FULL) !== 0) this.#tell(endpoint, 'a full buffer was offered for receiving');
    return { bytes: word & LENGTH, odd: (word & ODD) !== 0 };
  }

  put(endpoint: number, bytes: Uint8Array, tells: boolean): void {
    const into = this.#bufferAt(endpoint, OUT);
    for (const [at, byte] of bytes.entries()) this.#memory.setUint8(into + at, byte);
    this.#finish(endpoint, OUT, (this.#half(endpoint, OUT) & ODD) | FULL | bytes.length, tells);
  }

  /** The firmware wrote a word of the shared memory. */
  wrote(offset: number, word: number): void {
    if (offset < BUFFER_WORDS || offset >= BUFFER_WORDS_END) return;
    if (word & BEGIN_WITH_FIRST) this.#next.delete(offset);
    const owned = this.#owned.get(offset) ?? 0;
    for (const half of this.#isDouble(offset) ? ([0, 1] as const) : ([0] as const))
      this.#look(offset, halfOf(word, half), halfOf(owned, half), half);
    this.#owned.set(offset, word);
    this.#lastWrites.set(offset, { word, nanos: this.#nowNanos() });
  }

  /** One half of a word as it is now, and as the controller has had it. */
  #look(offset: number, word: number, owned: number, half: Half): void {
    if ((word & AVAILABLE) === 0) return;
    const name = `USB buffer word 0x${offset.toString(16)}`;
    if (owned & AVAILABLE) {
      if (!this.#isDouble(offset) || word !== owned) this.#mistake(`${name} was made available twice`);
      return;
    }
    const before = this.#lastWrites.get(offset);
    const isSettled =
      before !== undefined &&
      halfOf(before.word, half) === (word & ~AVAILABLE) &&
      this.#nowNanos() - before.nanos >= SETTLE_NANOS;
    if (!isSettled) this.#mistake(`${name} was made available before it had settled`);
  }

  #finish(endpoint: number, direction: Direction, word: number, tellsControl: boolean): void {
    const offset = offsetOf(endpoint, direction);
    const half = this.#nextHalf(offset);
    const put = (whole: number) => (whole & ~(HALF << (HALF_BITS * half))) | (word << (HALF_BITS * half));
    this.#memory.setUint32(offset, put(this.#memory.getUint32(offset, true)) >>> 0, true);
    this.#owned.set(offset, put(this.#owned.get(offset) ?? 0) >>> 0);
    if (this.#isDouble(offset)) this.#next.set(offset, half === 0 ? 1 : 0);
    if (!this.#tells(endpoint, direction, half, tellsControl)) return;
    const number = 2 * endpoint + direction;
    this.#done.set(number, [...(this.#done.get(number) ?? []), half]);
  }

  #tells(endpoint: number, direction: Direction, half: Half, tellsControl: boolean): boolean {
    if (endpoint === 0) return tellsControl;
    const control = this.#control(endpoint, direction);
    const isSecond = (control & ENDPOINT_DOUBLE) !== 0 && half === 1;
    return (control & ENDPOINT_EACH_BUFFER) !== 0 || (isSecond && (control & ENDPOINT_EVERY_SECOND) !== 0);
  }

  #isDouble(offset: number): boolean {
    const control = offset - BUFFER_WORDS;
    return control >= 8 && (this.#memory.getUint32(control, true) & ENDPOINT_DOUBLE) !== 0;
  }

  #nextHalf(offset: number): Half {
    return this.#isDouble(offset) ? (this.#next.get(offset) ?? 0) : 0;
  }

  #half(endpoint: number, direction: Direction): number {
    const offset = offsetOf(endpoint, direction);
    return halfOf(this.#memory.getUint32(offset, true), this.#nextHalf(offset));
  }

  #control(endpoint: number, direction: Direction): number {
    return this.#memory.getUint32(8 * endpoint + 4 * direction, true);
  }

  #bufferAt(endpoint: number, direction: Direction): number {
    if (endpoint === 0) return CONTROL_BUFFER;
    const half = this.#nextHalf(offsetOf(endpoint, direction));
    return (this.#control(endpoint, direction) & ENDPOINT_BUFFER) + half * PAIR_BYTES;
  }

  #bits(which: (halves: readonly Half[]) => boolean): number {
    let bits = 0;
    for (const [number, halves] of this.#done) if (halves.length > 0 && which(halves)) bits |= 1 << number;
    return bits >>> 0;
  }

  #tell(endpoint: number, words: string): void {
    this.#mistake(`USB endpoint ${endpoint}: ${words}`);
  }
}

function offsetOf(endpoint: number, direction: Direction): number {
  return BUFFER_WORDS + 8 * endpoint + 4 * direction;
}

function halfOf(word: number, half: Half): number {
  return (word >>> (HALF_BITS * half)) & HALF;
}
