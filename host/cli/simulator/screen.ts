import { limits } from '../../../shared-protocol/limits.js';
import type { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { cleanText } from '../terminal/clean-text.js';
import { keyHelp } from './keys.js';

/** Where the simulated board is shown: drawn over and over on a terminal, or told line by line elsewhere. */
export interface Screen {
  close(): void;
}

const REDRAW_MS = 50;

/** Draws the panel, the lamps and the keys in place, on a terminal. */
export class DrawnScreen implements Screen {
  readonly #board: SimulatedBoard;
  readonly #note: string;
  readonly #timer: NodeJS.Timeout;
  #drawn = '';

  constructor(board: SimulatedBoard, note: string) {
    this.#board = board;
    this.#note = note;
    this.#timer = setInterval(() => this.#draw(), REDRAW_MS);
    this.#draw();
  }

  close(): void {
    clearInterval(this.#timer);
    this.#draw();
  }

  #draw(): void {
    const text = picture(this.#board, this.#note);
    if (text === this.#drawn) return;
    const up = this.#drawn === '' ? '' : `\u001b[${this.#drawn.split('\n').length}F\u001b[J`;
    process.stdout.write(`${up}${text}\n`);
    this.#drawn = text;
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

function picture(board: SimulatedBoard, note: string): string {
  const edge = `+${'-'.repeat(limits.displayColumns + 2)}+`;
  const rows = board.panel.map((row) => `| ${cleanText(row)} |`);
  const lamp = board.lampOn ? 'LAMP ON' : 'lamp off';
  const safelight = board.safelightOn ? 'safelight on' : 'safelight off';
  const power = board.powered ? '' : '   NO POWER';
  return [note, edge, ...rows, edge, `${lamp}   ${safelight}${power}`, '', keyHelp].join('\n');
}
