import { limits } from '../../../shared-protocol/limits.js';
import type { Timeline } from './timeline.js';

/** Start bit, eight data bits, stop bit. */
const BITS_PER_BYTE = 10;
/** What the board's send ring holds, as in the board layer. */
const SEND_RING_BYTES = 1024;
/** What a computer buffers for a program that does not read; bytes beyond are lost, as on a real line. */
export const UNREAD_BYTES = 65_536;

/** What is plugged in: how the far end gets its bytes. */
export interface Cable {
  /** Handed over, and not read there yet. */
  readonly unreadBytes: number;
  give(bytes: Uint8Array): void;
  /** It was pulled out, and is of no use any more. */
  end(): void;
}

interface LineEvents {
  /** A byte has come in whole. */
  received(byte: number): void;
  /** After a refusal there is room for a whole line again. */
  writable(): void;
  /** Something comes from outside: time must be brought up to this moment first. */
  catchUp(): void;
}

/**
 * A board's UART and the cable in it. With a baud rate each byte takes its time and the send ring can be full;
 * without one everything arrives at once.
 */
export class SerialLine {
  /** Bytes sent while nobody read them. */
  lostBytes = 0;
  readonly #timeline: Timeline;
  readonly #byteUs: number;
  readonly #events: LineEvents;
  #cable: Cable | undefined;
  #sending: number[] = [];
  #refused = false;
  #sendFreeUs = 0;
  #receiveFreeUs = 0;
  #epoch = 0;

  constructor(timeline: Timeline, baud: number | undefined, events: LineEvents) {
    this.#timeline = timeline;
    this.#byteUs = baud === undefined ? 0 : (BITS_PER_BYTE * 1_000_000) / baud;
    this.#events = events;
  }

  /** A fresh cable; the one before is pulled out. */
  plug(cable: Cable): void {
    this.unplug();
    this.#cable = cable;
  }

  unplug(): void {
    const cable = this.#cable;
    this.#cable = undefined;
    cable?.end();
  }

  /** Queues all of `bytes` or nothing. */
  send(bytes: Uint8Array): boolean {
    if (this.#byteUs === 0) {
      this.#giveOut(bytes);
      return true;
    }
    if (this.#sending.length + bytes.length > SEND_RING_BYTES) {
      this.#refused = true;
      return false;
    }
    const idle = this.#sending.length === 0;
    this.#sending.push(...bytes);
    if (idle) {
      this.#sendFreeUs = Math.max(this.#sendFreeUs, this.#timeline.nowUs);
      this.#sendNext(this.#epoch);
    }
    return true;
  }

  /** Bytes from the far end of this cable; `done` when all have come in. */
  takeIn(cable: Cable, chunk: Uint8Array, done: () => void): void {
    this.#events.catchUp();
    if (this.#byteUs === 0) {
      for (const byte of chunk) this.#arrive(cable, byte);
      done();
      return;
    }
    this.#receiveFreeUs = Math.max(this.#receiveFreeUs, this.#timeline.nowUs);
    this.#receiveNext(cable, chunk, 0, done);
  }

  /** What was under way when the board stopped never arrives. */
  drop(): void {
    this.#epoch++;
    this.#sending = [];
    this.#refused = false;
  }

  #sendNext(epoch: number): void {
    this.#sendFreeUs += this.#byteUs;
    this.#timeline.at(this.#sendFreeUs, () => {
      if (epoch !== this.#epoch) return;
      this.#giveOut(Uint8Array.of(this.#sending.shift()!));
      if (this.#sending.length > 0) this.#sendNext(epoch);
      if (this.#refused && this.#sending.length + limits.lineBytes <= SEND_RING_BYTES) {
        this.#refused = false;
        this.#events.writable();
      }
    });
  }

  #giveOut(bytes: Uint8Array): void {
    const cable = this.#cable;
    if (cable === undefined || cable.unreadBytes + bytes.length > UNREAD_BYTES)
      this.lostBytes += bytes.length;
    else cable.give(bytes);
  }

  #receiveNext(cable: Cable, chunk: Uint8Array, index: number, done: () => void): void {
    this.#receiveFreeUs += this.#byteUs;
    this.#timeline.at(this.#receiveFreeUs, () => {
      this.#arrive(cable, chunk[index]!);
      if (index + 1 < chunk.length) this.#receiveNext(cable, chunk, index + 1, done);
      else done();
    });
  }

  #arrive(cable: Cable, byte: number): void {
    if (cable === this.#cable) this.#events.received(byte);
  }
}
