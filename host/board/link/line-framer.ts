import { ReadlineParser } from '@serialport/parser-readline';
import { limits } from '../../../shared-protocol/limits.js';

const NEWLINE = 0x0a;
/** One character over what is allowed is enough for the reader to see that a line is too long. */
const LONGEST_KEPT = limits.lineBytes + 1;

/** So much is shown of a line that was never finished. */
const SHOWN_BYTES = 80;

/** Told of so many bytes that came without a newline, and how they begin. */
type OnUnfinished = (begin: string, bytes: number) => void;

/**
 * Cuts what arrives into lines, for one connection. The parser below has no bound on a line, hands out an
 * unfinished last line as if it were whole, and keeps a carriage return; all three stop here.
 */
export class LineFramer {
  /** Bytes of over-long lines, and of a line that was never finished. */
  discardedBytes = 0;
  readonly #parser = new ReadlineParser({ encoding: 'latin1' });
  readonly #onUnfinished: OnUnfinished;
  /** Bytes since the last newline, discarded ones included. */
  #lineBytes = 0;
  /** How the line that is not finished yet begins. */
  #begin = '';

  constructor(onLine: (line: string) => void, onUnfinished: OnUnfinished = () => {}) {
    this.#onUnfinished = onUnfinished;
    this.#parser.on('data', (line: string) => {
      onLine(line.endsWith('\r') ? line.slice(0, -1) : line);
    });
  }

  /** Bytes kept of a line that has no newline yet. */
  get unfinishedBytes(): number {
    return Math.min(this.#lineBytes, LONGEST_KEPT);
  }

  feed(chunk: Buffer): void {
    let start = 0;
    for (let end = chunk.indexOf(NEWLINE); end >= 0; end = chunk.indexOf(NEWLINE, start)) {
      if (this.#lineBytes + end - start > LONGEST_KEPT) {
        this.#feedCut(chunk, start, end);
        return;
      }
      this.#lineBytes = 0;
      start = end + 1;
    }
    this.#feedTail(chunk, start);
  }

  /** The connection is over: what stands there without its newline is no line. */
  end(): void {
    this.discardedBytes += this.unfinishedBytes;
    if (this.#lineBytes > 0) this.#onUnfinished(this.#begin, this.#lineBytes);
    this.#lineBytes = 0;
    this.#parser.destroy();
  }

  /** A chunk whose line from `start` to its newline at `end` is too long: its surplus is left out. */
  #feedCut(chunk: Buffer, start: number, end: number): void {
    const room = Math.max(LONGEST_KEPT - this.#lineBytes, 0);
    this.discardedBytes += end - start - room;
    this.#lineBytes = 0;
    if (start + room > 0) this.#parser.write(chunk.subarray(0, start + room));
    this.feed(chunk.subarray(end));
  }

  #feedTail(chunk: Buffer, start: number): void {
    const room = Math.max(LONGEST_KEPT - this.#lineBytes, 0);
    const surplus = Math.max(chunk.length - start - room, 0);
    if (this.#lineBytes === 0) this.#begin = chunk.toString('latin1', start, start + SHOWN_BYTES);
    this.#lineBytes += chunk.length - start;
    this.discardedBytes += surplus;
    if (chunk.length > surplus) this.#parser.write(chunk.subarray(0, chunk.length - surplus));
  }
}
