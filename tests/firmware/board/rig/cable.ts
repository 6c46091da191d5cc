import { Duplex } from 'node:stream';
import type { Timeline } from '../../../../host/board/sim/timeline.js';

const FRAME_BITS = 10;
/** What a computer buffers for a program that does not read; bytes beyond are lost, as on a real line. */
const UNREAD_BYTES = 65_536;

/** The board's end of the wires. */
interface Far {
  /** The rate at which it listens, 0 while it does not. */
  readonly baud: number;
  /** So many bytes are given to it at once, in the time that they all take; 1 unless it says so. */
  readonly bytesAtOnce?: number;
  receive(byte: number): void;
}

/** A serial cable to a computer whose port runs at its own rate; every byte takes its time. */
export class Cable {
  /** Bytes sent while nobody read them. */
  lostBytes = 0;
  /** Bytes the board said, for tests that count. */
  saidBytes = 0;
  /** The computer's rate; half a per cent beside the board's is what real ports do. */
  baud = 115_200;
  readonly #timeline: Timeline;
  readonly #far: Far;
  #port: Duplex | undefined;
  #freeUs = 0;

  constructor(timeline: Timeline, far: Far) {
    this.#timeline = timeline;
    this.#far = far;
  }

  plug(): Duplex {
    this.unplug();
    const port = new Duplex({
      readableHighWaterMark: UNREAD_BYTES,
      read: () => {},
      write: (chunk: Buffer, _encoding, done) => {
        this.#freeUs = Math.max(this.#freeUs, this.#timeline.nowUs);
        this.#sendNext(port, chunk, 0, done);
      },
    });
    this.#port = port;
    return port;
  }

  unplug(): void {
    this.#port?.push(null);
    this.#port?.destroy();
    this.#port = undefined;
  }

  /** A byte from the board. */
  giveOut(byte: number): void {
    this.saidBytes++;
    if (this.#port === undefined || this.#port.readableLength >= UNREAD_BYTES) this.lostBytes++;
    else this.#port.push(Buffer.of(byte));
  }

  #sendNext(port: Duplex, chunk: Buffer, index: number, done: () => void): void {
    if (index === chunk.length) {
      done();
      return;
    }
    const bytes = chunk.subarray(index, index + (this.#far.bytesAtOnce ?? 1));
    this.#freeUs += (bytes.length * FRAME_BITS * 1e6) / this.baud;
    this.#timeline.at(this.#freeUs, () => {
      if (port === this.#port) for (const byte of bytes) this.#far.receive(byte);
      this.#sendNext(port, chunk, index + bytes.length, done);
    });
  }
}
