import type { Duplex } from 'node:stream';
import { type Decoded, decodeLine, type Message } from '../../../shared-protocol/index.js';
import type { Clock } from '../../clock.js';
import { BoardLostError } from '../errors.js';
import { LineFramer } from './line-framer.js';
import type { LineObserver } from './line-observer.js';

/** What went wrong on the line as this side saw it, since the connection was opened. */
export interface LinkCounters {
  linesSent: number;
  linesReceived: number;
  /** Lines that were no lines of the protocol, or longer than allowed. */
  badLines: number;
  badCrcs: number;
  /** Lines whose checksum fits but which this version cannot read. */
  unreadable: number;
  /** Bytes before the first welcome, and those of lines that were thrown away. */
  discardedBytes: number;
  /** Requests sent again because no answer came in time, or because the board could not read them. */
  repeats: number;
  /** Answers to nothing that was asked, for instance to a request given up. */
  strayAnswers: number;
  /** Answers that cannot belong to the request whose number they bear. */
  wrongAnswers: number;
  /** Notices thrown away because nobody took them. */
  noticesDropped: number;
}

/** What a link tells the one who holds it. */
export interface LinkListener {
  received(message: Message): void;
  /** A line whose checksum is right but whose content this version does not know. */
  unreadable(line: string, id: number, why: string): void;
  /** What was asked had no answer for as long as one may take, and is asked again. */
  silent?(): void;
  lost(error: BoardLostError): void;
}

/**
 * One connection, used once: lines out, lines in, counters, and a single end. End of stream, error, write error and
 * silence (told by the holder through `fail`) all lead there, and nothing comes after.
 */
export class Link {
  readonly counters: LinkCounters = {
    linesSent: 0,
    linesReceived: 0,
    badLines: 0,
    badCrcs: 0,
    unreadable: 0,
    discardedBytes: 0,
    repeats: 0,
    strayAnswers: 0,
    wrongAnswers: 0,
    noticesDropped: 0,
  };
  /** When the last good line came, by the clock's `nowMs`. */
  lastHeardMs: number;
  /** When this side said something last: a board with two cables keeps listening at this one by that alone. */
  lastSaidMs: number;
  /** Why nothing more will come, once that is so. */
  end: BoardLostError | undefined;
  /** This side wanted it so. */
  closed = false;
  readonly path: string;
  readonly #stream: Duplex;
  readonly #clock: Clock;
  readonly #framer: LineFramer;
  readonly #listeners = new Set<LinkListener>();
  readonly #onData = (chunk: Buffer) => this.#framer.feed(chunk);
  readonly #observe: LineObserver;
  readonly #onEnd = () => this.fail('its port went away');
  readonly #onError = (error: Error) => this.fail(`its port failed (${error.message})`, error);

  constructor(stream: Duplex, path: string, clock: Clock, observe: LineObserver = () => {}) {
    this.path = path;
    this.#observe = observe;
    this.#stream = stream;
    this.#clock = clock;
    this.lastHeardMs = clock.nowMs();
    this.lastSaidMs = clock.nowMs();
    this.#framer = new LineFramer(
      (line) => this.#takeLine(line),
      (text, bytes) => observe({ path, kind: 'thrown-away', text, why: `${bytes} bytes without a newline` }),
    );
    observe({ path, kind: 'note', text: 'opened' });
    stream.on('data', this.#onData);
    stream.on('end', this.#onEnd);
    stream.on('close', this.#onEnd);
    stream.on('error', this.#onError);
  }

  /** The counters as they stand, with what the framer threw away. */
  countersNow(): LinkCounters {
    return { ...this.counters, discardedBytes: this.counters.discardedBytes + this.#framer.discardedBytes };
  }

  /** Lines so far that did not arrive whole. */
  get damagedLines(): number {
    return this.counters.badLines + this.counters.badCrcs;
  }

  /** Bytes so far that make no line of a board: thrown away, or still without their newline. */
  get bytesInNoLine(): number {
    return this.countersNow().discardedBytes + this.#framer.unfinishedBytes;
  }

  /** Counts a message that was read and then not taken. */
  passOver(counter: 'strayAnswers' | 'wrongAnswers', why: string): void {
    this.counters[counter]++;
    this.#observe({ path: this.path, kind: 'note', text: `not taken: ${why}` });
  }

  /** Adds a listener; calling the answer takes it off. */
  listen(listener: LinkListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Sends a line, or any bytes, before the end. Sent is not received: only an answer says that. */
  send(line: string): void {
    this.counters.linesSent++;
    this.lastSaidMs = this.#clock.nowMs();
    this.#observe({ path: this.path, kind: 'sent', text: line });
    this.#stream.write(line, 'latin1');
  }

  /** Nothing has come since `lastHeardMs`, though something was asked. */
  tellSilence(): void {
    for (const listener of [...this.#listeners]) listener.silent?.();
  }

  /** The one way into the end. The first reason stands. */
  fail(reason: string, cause?: unknown): void {
    if (this.end !== undefined) return;
    this.end = new BoardLostError(this.path, reason, cause);
    this.#framer.end();
    this.#stream.off('data', this.#onData);
    this.#observe({ path: this.path, kind: 'note', text: reason });
    for (const listener of [...this.#listeners]) listener.lost(this.end);
  }

  /** Ends the link on purpose and lets go of the stream. */
  close(): Promise<void> {
    this.closed ||= this.end === undefined;
    this.fail('this program closed the connection');
    return closeStream(this.#stream);
  }

  #takeLine(line: string): void {
    if (this.end !== undefined) return;
    const decoded = decodeLine(line);
    if (!decoded.ok) {
      this.#takeBadLine(line, decoded);
      return;
    }
    this.counters.linesReceived++;
    this.#observe({ path: this.path, kind: 'received', text: line });
    this.lastHeardMs = this.#clock.nowMs();
    for (const listener of this.#listeners) listener.received(decoded.message);
  }

  #takeBadLine(line: string, { fault, id, why }: Extract<Decoded, { ok: false }>): void {
    if (line === '') return;
    this.#observe({ path: this.path, kind: 'thrown-away', text: line, why: `${fault}: ${why}` });
    if (fault === 'bad-line' || fault === 'bad-crc') {
      this.counters[fault === 'bad-line' ? 'badLines' : 'badCrcs']++;
      this.counters.discardedBytes += line.length + 1;
      return;
    }
    this.counters.unreadable++;
    this.lastHeardMs = this.#clock.nowMs();
    for (const listener of this.#listeners) listener.unreadable(line, id, why);
  }
}

/** A serial port is closed, any other stream is let go; a stream that is gone already is fine too. */
function closeStream(
  stream: Duplex & { close?: (done: () => void) => void; isOpen?: boolean },
): Promise<void> {
  return new Promise((resolve) => {
    if (stream.close !== undefined && stream.isOpen) stream.close(() => resolve());
    else {
      stream.destroy();
      resolve();
    }
  });
}
