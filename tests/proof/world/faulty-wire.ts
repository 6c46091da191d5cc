import { Duplex } from 'node:stream';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Random } from '../../setup/random.js';

/** Probabilities of each accident, a byte at a time. */
export interface Noise {
  readonly flipped: number;
  readonly dropped: number;
  readonly doubled: number;
  /** A newline lost, so that two lines come as one. */
  readonly joined: number;
  /** Everything behind this byte comes late. */
  readonly delayed: number;
}

export const silence: Noise = { flipped: 0, dropped: 0, doubled: 0, joined: 0, delayed: 0 };

const LONGEST_DELAY_US = 700_000;
const NEWLINE = 0x0a;

/** Accidents so far, by kind. */
export type Accidents = Record<keyof Noise, number>;

/**
 * A cable between a board's own cable end and a program, on the world's clock: bytes take their time, and on the way
 * meet with accidents. Order is kept, as on any wire. Where the board's end goes away, so does the program's port.
 */
export class FaultyWire {
  readonly accidents: Accidents = { flipped: 0, dropped: 0, doubled: 0, joined: 0, delayed: 0 };
  noise: Noise = silence;
  readonly #timeline: Timeline;
  readonly #random: Random;
  readonly #byteUs: number;
  #program: Duplex | undefined;
  #board: Duplex | undefined;
  #leftBytes: number | undefined;

  /** `byteUs` is what a byte takes on it; 0 where the board paces its line itself. */
  constructor(timeline: Timeline, random: Random, byteUs: number) {
    this.#timeline = timeline;
    this.#random = random;
    this.#byteUs = byteUs;
  }

  /** Puts the cable in: the program's end of it. */
  connect(board: Duplex, onBoardSays: (bytes: Buffer) => void): Duplex {
    this.pull();
    const toBoard = this.#direction((bytes) => board === this.#board && this.#giveBoard(board, bytes));
    const toProgram = this.#direction((bytes) => program === this.#program && program.push(bytes));
    const program: Duplex = new Duplex({
      read: () => {},
      write: (chunk: Buffer, _encoding, done) => {
        toBoard(chunk);
        done();
      },
    });
    program.on('error', () => {});
    board.on('data', (chunk: Buffer) => {
      onBoardSays(chunk);
      toProgram(chunk);
    });
    board.on('error', () => {});
    board.once('close', () => {
      if (board === this.#board) this.pull();
    });
    this.#program = program;
    this.#board = board;
    return program;
  }

  /** The program goes away in the middle of what it says next, so many bytes of which still arrive; undefined calls it off. */
  breakOff(bytes: number | undefined): void {
    this.#leftBytes = bytes;
  }

  #giveBoard(board: Duplex, bytes: Buffer): void {
    const left = this.#leftBytes;
    if (left === undefined || left >= bytes.length) {
      if (left !== undefined) this.#leftBytes = left - bytes.length;
      board.write(bytes);
      return;
    }
    this.#leftBytes = undefined;
    board.write(bytes.subarray(0, left), () => {
      if (board === this.#board) this.pull();
    });
  }

  /** The cable is out: what is on its way is lost, and the program's port goes away. */
  pull(): void {
    this.#board = undefined;
    this.#program?.push(null);
    this.#program?.destroy();
    this.#program = undefined;
  }

  #direction(deliver: (bytes: Buffer) => unknown): (chunk: Buffer) => void {
    let freeUs = 0;
    return (chunk) => {
      const bytes = this.#damage(chunk);
      freeUs = Math.max(freeUs, this.#timeline.nowUs) + bytes.length * this.#byteUs;
      if (this.#happens('delayed', chunk.length)) freeUs += this.#random.below(LONGEST_DELAY_US);
      this.#timeline.at(freeUs, () => deliver(bytes));
    };
  }

  #damage(chunk: Buffer): Buffer {
    const { flipped, dropped, doubled, joined } = this.noise;
    if (flipped + dropped + doubled + joined === 0) return Buffer.from(chunk);
    const bytes: number[] = [];
    for (const byte of chunk) {
      if (byte === NEWLINE ? this.#happens('joined') : this.#happens('dropped')) continue;
      bytes.push(this.#happens('flipped') ? byte ^ (1 << this.#random.below(8)) : byte);
      if (this.#happens('doubled')) bytes.push(bytes.at(-1)!);
    }
    return Buffer.from(bytes);
  }

  #happens(kind: keyof Noise, tries = 1): boolean {
    const probability = this.noise[kind];
    if (probability === 0 || !this.#random.chance(Math.min(1, probability * tries))) return false;
    this.accidents[kind]++;
    return true;
  }
}
