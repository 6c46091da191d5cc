import type { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { cleanText } from '../terminal/clean-text.js';
import { pictureOf, type SeenBoard, type Size } from './picture.js';

/** Where the simulated board is shown: drawn over and over on a terminal, or told line by line elsewhere. */
export interface Screen {
  close(): void;
}

const REDRAW_MS = 50;
const USUAL_SIZE: Size = { columns: 80, rows: 24 };
const CLEAR = '\u001b[2J\u001b[H';

/** A terminal, as far as drawing on it needs one. */
export interface Terminal {
  readonly columns?: number;
  readonly rows?: number;
  write(text: string): unknown;
  on(event: 'resize', run: () => void): unknown;
  off(event: 'resize', run: () => void): unknown;
}

/** Draws the panel, the lamps and the keys in place, as large as the terminal is just now. */
export class DrawnScreen implements Screen {
  readonly #board: SeenBoard;
  readonly #note: string;
  readonly #terminal: Terminal;
  readonly #timer: NodeJS.Timeout;
  readonly #onResize = () => this.#begin();
  #drawn: readonly string[] = [];

  constructor(board: SeenBoard, note: string, terminal: Terminal = process.stdout) {
    this.#board = board;
    this.#note = note;
    this.#terminal = terminal;
    this.#timer = setInterval(() => this.draw(), REDRAW_MS);
    terminal.on('resize', this.#onResize);
    this.#begin();
  }

  close(): void {
    clearInterval(this.#timer);
    this.#terminal.off('resize', this.#onResize);
    this.draw();
  }

  /** Draws what has changed, over what stands there. */
  draw(): void {
    const lines = pictureOf(this.#board, this.#size);
    if (lines.join('\n') === this.#drawn.join('\n')) return;
    const up = this.#drawn.length === 0 ? '' : `\u001b[${this.#drawn.length}F\u001b[J`;
    this.#terminal.write(`${up}${lines.join('\n')}\n`);
    this.#drawn = lines;
  }

  /** On an empty terminal: after a change of its size nobody knows where the lines drawn before have gone. */
  #begin(): void {
    this.#drawn = [];
    this.#terminal.write(`${CLEAR}${this.#note}\n`);
    this.draw();
  }

  get #size(): Size {
    const { columns, rows } = this.#terminal;
    return { columns: columns || USUAL_SIZE.columns, rows: rows || USUAL_SIZE.rows };
  }
}

/** Tells what changes, a line each, where there is no terminal to draw on. */
export class ToldScreen implements Screen {
  readonly #stop: () => void;

  constructor(board: SimulatedBoard) {
    const onLamp = ({ atUs, on }: { atUs: number; on: boolean }) => tell(atUs, on ? 'lamp on' : 'lamp off');
    const onPanel = (row: number, text: string) => tell(board.nowUs, `row ${row + 1} |${cleanText(text)}|`);
    board.on('lamp', onLamp).on('panel', onPanel);
    board.panel.forEach((text, row) => {
      onPanel(row, text);
    });
    this.#stop = () => board.off('lamp', onLamp).off('panel', onPanel);
  }

  close(): void {
    this.#stop();
  }
}

function tell(atUs: number, text: string): void {
  process.stdout.write(`${(atUs / 1_000_000).toFixed(3).padStart(10)} s  ${text}\n`);
}
