import { closeSync, openSync, writeSync } from 'node:fs';
import type { LineEvent, LineObserver } from '../board/link/line-observer.js';
import { FileThereError, fileTrouble, systemTrouble } from '../files/file-access-error.js';
import { remark } from './terminal/print.js';

/** A long evening with everything that it says takes a tenth of it. */
const MOST_BYTES = 16 * 1024 * 1024;

const MARKS = { sent: '>', received: '<', 'thrown-away': 'x', note: '#' } as const;

// What is not printable ASCII, and the newline that ends each line.
const UNPRINTABLE = /[^ -~]/g;

/**
 * Everything that passes on a line, written down as it happens: each line is in the file before the next is sent or
 * heard, so that a crash takes nothing away. The file is a new one, and ends at a limit.
 */
export class TraceFile {
  readonly observe: LineObserver = (event) => this.#add(event);
  #file: number | undefined;
  #bytes = 0;
  readonly #mostBytes: number;

  /** @throws FileAccessError where no new file of that name can be made */
  constructor(path: string, mostBytes = MOST_BYTES) {
    this.#mostBytes = mostBytes;
    try {
      this.#file = openSync(path, 'wx');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EEXIST') throw new FileThereError(path);
      throw fileTrouble('cannot write', path, error);
    }
    this.#write(
      '# > to the board, < from it, x thrown away and why, # other; bytes that are no text stand as \\x..',
    );
  }

  close(): void {
    if (this.#file !== undefined) closeSync(this.#file);
    this.#file = undefined;
  }

  #add({ path, kind, text, why }: LineEvent): void {
    if (this.#file === undefined) return;
    const time = new Date().toISOString();
    const reason = why === undefined ? '' : `  (${readable(why)})`;
    this.#write(`${time} ${readable(path)} ${MARKS[kind]} ${readable(text)}${reason}`);
    if (this.#bytes < this.#mostBytes) return;
    this.#write(`${time} # the trace ends here: this file has reached its limit of ${this.#mostBytes} bytes`);
    this.close();
  }

  /** Trouble with the trace is told and ends the trace, not the work. */
  #write(line: string): void {
    try {
      this.#bytes += writeSync(this.#file!, `${line}\n`);
    } catch (error) {
      remark(`The trace ends here: ${systemTrouble(error)?.say ?? String(error)}`);
      this.close();
    }
  }
}

function readable(text: string): string {
  return text.trim().replace(UNPRINTABLE, (byte) => `\\x${byte.charCodeAt(0).toString(16).padStart(2, '0')}`);
}
