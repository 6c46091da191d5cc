import type { BoardHome } from '../../../host/board/sim/board-home.js';
import { holdPedal, pushKnob, tapPedal } from '../../../host/board/sim/controls.js';

const HOLD_MS = 900;
const LOOK_US = 1_000_000;
/** Slower than what the core takes for a quick turn, which goes further with each click. */
const CLICK_US = 130_000;
const MOST_TAPS = 60;
const MOST_CLICKS = 40;

const row = (board: BoardHome, at: number) => board.panel[at]!.trimEnd();

/** A click of the knob at a time, until the panel shows what is looked for. */
export function turnUntil(board: BoardHome, isThere: () => boolean): void {
  for (let clicks = 0; !isThere(); clicks++) {
    if (clicks === MOST_CLICKS) throw new Error(`not found by the knob; now: ${board.panel.join(' | ')}`);
    board.knobTurn(1);
    board.advanceUs(CLICK_US);
  }
}

/** Taps and waits while the lamp is on, and answers what is asked, until the panel says that it is done. */
function work(board: BoardHome, isDone: () => boolean): void {
  for (let taps = 0; taps < MOST_TAPS && !isDone(); taps++) {
    if (row(board, 0).startsWith('Stopped down?')) holdPedal(board, HOLD_MS);
    else tapPedal(board);
    board.advanceUs(LOOK_US);
    while (board.lampOn) board.advanceUs(LOOK_US / 2);
  }
}

/** A strip, looked at and found right half-way between two patches; the base that the panel then shows, as '11.31'. */
export function findBaseByStrip(board: BoardHome): string {
  turnUntil(board, () => /first$/.test(row(board, 1)));
  work(board, () => /in all$/.test(row(board, 1)));
  turnUntil(board, () => row(board, 2) === 'Between 3 and 4');
  pushKnob(board);
  board.advanceUs(LOOK_US);
  turnUntil(board, () => /base$/.test(row(board, 1)));
  return row(board, 1).split(' ')[0]!;
}

/** The recipe as the knob finds it, and its sheet as the pedal works it; back to rest. */
export function printByHand(board: BoardHome, recipe: string): void {
  turnUntil(board, () => row(board, 2).startsWith(recipe) && /base$/.test(row(board, 1)));
  work(board, () => row(board, 3).endsWith('done'));
  holdPedal(board, HOLD_MS);
  board.advanceUs(2 * LOOK_US);
}
