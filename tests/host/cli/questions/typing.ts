import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawn } from '@lydell/node-pty';
import { treadlePath } from '../treadle.js';

/** What a terminal is sent for Return and for Ctrl with a letter. */
export const RETURN = '\r';
export const CTRL_C = '\u0003';
export const CTRL_D = '\u0004';

/** No line is broken, so that tests can look for whole ones. */
const WIDE_COLUMNS = 200;
const ROWS = 60;
/** What readline sends to place the cursor (ECMA-48: CHA, ED). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control sequences are what it looks for
const CURSOR = /\u001b\[(?:\d+G|\d*J)/g;
/** A question waits: its line has been written and the cursor put behind it. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: as above
const ASKED = /([^\r\n\u001b]*): \u001b\[\d+G$/;

export interface Typed {
  /** All that was on the terminal, without what only moves the cursor, and with plain line ends. */
  readonly screen: string;
  /** The same as it came. */
  readonly raw: string;
  readonly exitCode: number;
  readonly signal: number;
}

/** A folder of its own, in which `treadle` runs at a pseudo-terminal. */
export class Desk {
  readonly folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
  /** Where the last answers are remembered, on any platform. */
  readonly home = mkdtempSync(join(tmpdir(), 'treadle-test-home-'));
  readonly #home = { HOME: this.home, XDG_DATA_HOME: this.home, LOCALAPPDATA: this.home };

  file(name: string): string {
    return join(this.folder, name);
  }

  files(): string[] {
    return readdirSync(this.folder).sort();
  }

  read(name: string): string {
    return readFileSync(this.file(name), 'utf8');
  }

  clear(): void {
    for (const folder of [this.folder, this.home]) rmSync(folder, { recursive: true });
  }

  /**
   * Runs the built command line, and types each answer when the next question stands there; `keys` are typed as they are.
   * @param whenAsked is called before each of them
   */
  type(
    words: readonly string[],
    keys: readonly string[],
    whenAsked: (at: number) => void = () => {},
    cols: number = WIDE_COLUMNS,
  ): Promise<Typed> {
    const left = [...keys];
    const terminal = spawn(process.execPath, [treadlePath, ...words], {
      ...{ cols, rows: ROWS },
      cwd: this.folder,
      env: { ...process.env, ...this.#home, NO_COLOR: '1', TZ: 'UTC' },
    });
    let raw = '';
    return new Promise((resolve, reject) => {
      terminal.onData((piece) => {
        raw += piece;
        if (!ASKED.test(raw)) return;
        whenAsked(keys.length - left.length);
        const next = left.shift();
        if (next !== undefined) return terminal.write(next);
        // Nobody would answer: the program would wait for ever, and the test with it.
        terminal.kill('SIGKILL');
        reject(new Error(`nothing is left to answer with:\n${screenOf(raw)}`));
      });
      terminal.onExit(({ exitCode, signal }) =>
        resolve({ screen: screenOf(raw), raw, exitCode, signal: signal ?? 0 }),
      );
    });
  }
}

function screenOf(raw: string): string {
  return raw.replace(CURSOR, '').replace(/\r+\n/g, '\n');
}

/** Each line with Return. */
export function lines(...answers: readonly string[]): string[] {
  return answers.map((answer) => `${answer}${RETURN}`);
}
