import { EventEmitter } from 'node:events';
import { describe, expect, it } from 'vitest';
import type { SeenBoard } from '../../../host/cli/simulator/picture.js';
import { DrawnScreen } from '../../../host/cli/simulator/screen.js';

/** What the drawing asks of a terminal (ECMA-48: CPL, ED, CUP), with lines that wrap and a page that scrolls. */
class SmallTerminal extends EventEmitter {
  page: string[] = [''];
  #row = 0;
  #column = 0;

  constructor(
    public columns: number,
    public rows: number,
  ) {
    super();
  }

  write(text: string): void {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
    for (const [piece] of text.matchAll(/\u001b\[\d*[A-Z]|[\s\S]/g)) {
      if (piece.startsWith('\u001b[')) this.#steer(piece.at(-1)!, Number(piece.slice(2, -1)));
      else if (piece === '\n') this.#newLine();
      else this.#put(piece);
    }
  }

  /** The terminal's own way of making itself smaller: what does not fit wraps into more lines. */
  resize(columns: number, rows: number): void {
    this.columns = columns;
    this.rows = rows;
    this.page = this.page
      .flatMap((line) => line.match(new RegExp(`.{1,${columns}}`, 'g')) ?? [''])
      .slice(-rows);
    this.#row = this.page.length - 1;
    this.#column = 0;
    this.emit('resize');
  }

  #steer(what: string, count: number): void {
    if (what === 'F') this.#row = Math.max(this.#row - count, 0);
    else if (what === 'H') this.#row = 0;
    else if (what === 'J') this.page = count === 2 ? [''] : this.page.slice(0, this.#row);
    else throw new Error(`the drawing asked for ${what}`);
    this.#column = 0;
  }

  #put(letter: string): void {
    if (this.#column === this.columns) this.#newLine();
    const line = (this.page[this.#row] ?? '').padEnd(this.#column);
    this.page[this.#row] = line.slice(0, this.#column) + letter + line.slice(this.#column + 1);
    this.#column++;
  }

  #newLine(): void {
    this.#column = 0;
    if (++this.#row === this.rows) {
      this.page.shift();
      this.#row--;
    }
    this.page[this.#row] ??= '';
  }
}

const NOTE = 'simulated board at /dev/pts/17: give that to --port';

function board(): SeenBoard & { panel: string[]; lampOn: boolean } {
  return {
    panel: Array.from({ length: 4 }, (_, row) => `row ${row}`.padEnd(20)),
    lampOn: false,
    safelightOn: true,
    powered: true,
  };
}

/** Lines of the page that show the panel's first row, or a lamp. */
const shows = (terminal: SmallTerminal, words: RegExp) =>
  terminal.page.filter((line) => words.test(line)).length;

describe('the simulated board on a terminal', () => {
  it.each([
    [80, 24],
    [40, 24],
    [40, 12],
    [30, 9],
    [25, 6],
    [23, 6],
  ])('of %i x %i is drawn once, over what was drawn before', (columns, rows) => {
    const terminal = new SmallTerminal(columns, rows);
    const seen = board();
    const screen = new DrawnScreen(seen, NOTE, terminal);
    for (let change = 0; change < 5; change++) {
      seen.lampOn = !seen.lampOn;
      seen.panel[0] = `first ${change}`.padEnd(20);
      screen.draw();
      expect(shows(terminal, /first \d/)).toBe(1);
      expect(shows(terminal, /lamp/i)).toBe(1);
      expect(shows(terminal, new RegExp(`first ${change}`))).toBe(1);
    }
    screen.close();
  });

  it('follows it when it grows and shrinks', () => {
    const terminal = new SmallTerminal(80, 24);
    const seen = board();
    const screen = new DrawnScreen(seen, NOTE, terminal);
    for (const [columns, rows] of [
      [30, 10],
      [80, 24],
      [24, 6],
      [100, 40],
    ] as const) {
      terminal.resize(columns, rows);
      seen.lampOn = !seen.lampOn;
      screen.draw();
      expect(shows(terminal, /lamp/i), `${columns} x ${rows}`).toBe(1);
      expect(shows(terminal, /row 0/), `${columns} x ${rows}`).toBe(1);
    }
    screen.close();
  });

  it('says what it needs where there is no room at all', () => {
    const terminal = new SmallTerminal(20, 4);
    const screen = new DrawnScreen(board(), '', terminal);
    expect(terminal.page.join('\n')).toMatch(/too small: needs /);
    screen.close();
    const tiny = new SmallTerminal(4, 2);
    new DrawnScreen(board(), '', tiny).close();
    expect(tiny.page.join('')).toBe('too');
  });
});
