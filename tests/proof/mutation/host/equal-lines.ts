import type { Equal } from '../equal.js';

/** Of the host and of what both sides share. */
export const hostEquals: readonly Equal[] = [
  {
    file: 'host/board/link/answer-watch.ts',
    line: 'this.#waitUntil(this.#sentMs + this.#noiseMs)',
    change: /^\+ as -$/,
    why: 'woken too early it sees that nothing is due and waits on',
  },
  {
    file: 'host/board/link/answer-reader.ts',
    line: 'return false;',
    change: /^false as true$/,
    why: 'the request has failed by then: whoever made it takes no line any more',
  },
  ...['#startMs = 0', '#noLineBefore = 0', '#sentMs = 0', '#damageBefore = 0'].map((line) => ({
    file: 'host/board/link/answer-watch.ts',
    line,
    change: /^0 as 1$/,
    why: 'it is set when the watch starts',
  })),
  {
    file: 'host/board/link/line-framer.ts',
    line: 'this.#lineBytes + end - start > LONGEST_KEPT',
    change: /^> as >=$/,
    why: 'a line of just that length has no surplus to leave out',
  },
  {
    file: 'host/board/link/line-framer.ts',
    line: 'this.#lineBytes = 0;',
    below: 'this.discardedBytes += end - start - room',
    change: /^0 as 1$/,
    why: 'what is fed next begins with the newline of that line, which sets it to none',
  },
  {
    file: 'host/board/link/line-framer.ts',
    line: 'if (chunk.length > surplus) this.#parser.write',
    change: /^> as >=$/,
    why: 'a piece of no bytes has no line for the parser',
  },
  {
    file: 'host/board/link/line-framer.ts',
    line: 'if (start + room > 0) this.#parser.write',
    change: /^> as >=$/,
    why: 'a piece of no bytes has no line for the parser',
  },
  {
    file: 'host/board/link/log-collection.ts',
    line: 'if (seq < window.uptoSeq) window.records.set(seq, record)',
    change: /^< as <=$/,
    why: 'of a window only what is before its end is looked at',
  },
  {
    file: 'host/board/link/log-collection.ts',
    line: 'search < LONGEST_SEARCH && lacked > 0 && missed < TIMES_MISSED',
    change: /^> as >=$/,
    why: 'where nothing lacks there is nothing to ask for again: it goes round without a request',
  },
  {
    file: 'host/board/link/stretch-asker.ts',
    line: 'this.#takeOff(asked);',
    below: 'finally',
    change: /^call left out$/,
    why: 'one that is over goes with the next record of one behind it, and what is noted of it until then nobody reads',
  },
  {
    file: 'host/board/link/handshake.ts',
    line: 'stopListening();',
    change: /^call left out$/,
    why: 'who listens settles a promise, which is settled by then and stays so',
  },
  {
    file: 'host/board/link/answer-reader.ts',
    line: 'if (this.#hasRoom() && why === undefined)',
    change: /^&& as \|\|$/,
    why: 'an answer with a line that cannot be right is asked for anew, and what was taken of it forgotten; without room it has failed',
  },
  {
    file: 'host/board/link/answer-reader.ts',
    line: 'const { mostLines = 0 }',
    change: /^0 as 1$/,
    why: 'every answer of many lines says how many at the most, and the line of another is refused before',
  },
  {
    file: 'host/board/link/log-window.ts',
    line: 'last === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'without a last stretch the count is not asked for',
  },
  {
    file: 'host/board/link/log-collection.ts',
    line: 'this.#beginSeq === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'it is only held against thousands of entries',
  },
  {
    file: 'host/board/link/port-note.ts',
    line: "digest('hex').slice(0, 16)",
    change: /^(?:16 as 17|0 as 1)$/,
    why: 'who writes the note and who reads it go by the same name',
  },
  {
    file: 'host/records/archive/record-pages.ts',
    line: 'stretch.from ?? { log: -1, seq: -1, boot: -1 }',
    change: /^1 as 2$/,
    why: 'no log, record or start has a number below zero: both come before all',
  },
  {
    file: 'host/records/archive/date-records.ts',
    line: "dateFrom(database, { board: textOf(board) ?? '', log, boot }, -1)",
    change: /^1 as 2$/,
    why: 'no record has a number below zero: both come before all',
  },
  {
    file: 'host/records/archive/collect-log.ts',
    line: 'start.log, start.fromSeq - 1)',
    change: /^1 as 2$/,
    why: 'it is asked for one number more, which is before the first that the board has',
  },
  {
    file: 'host/records/archive/dating.ts',
    line: 'before === undefined ? 0 : stepMs',
    change: /^0 as 1$/,
    why: 'the first step of a run without a beginning is before its first mark, and part of no sum that is used',
  },
  {
    file: 'host/records/archive/archive-format.ts',
    line: 'const PRINTED_FORMAT = 8;',
    change: /^8 as 9$/,
    why: 'the view that then stands for the table says what the table says',
  },
  {
    file: 'host/records/archive/file-reader.ts',
    line: 'this.#statements.clear()',
    change: /^call left out$/,
    why: 'who reads after closing is refused before a statement is looked for, and they go with the reader',
  },
];
