import type { BoardHome } from './board-home.js';

/** How long a foot stays down for a tap, and what the contact needs to settle afterwards. */
const TAP_MS = 120;
const SETTLE_MS = 60;

/** A tap of the pedal: down, up, and time for the contact to settle. */
export function tapPedal(board: BoardHome): void {
  holdPedal(board, TAP_MS);
}

/** The pedal held down for `heldMs`, released, and time for the contact to settle. */
export function holdPedal(board: BoardHome, heldMs: number): void {
  board.pedal(true);
  board.advanceUs(heldMs * 1000);
  board.pedal(false);
  board.advanceUs(SETTLE_MS * 1000);
}

/** A push of the knob held for `heldMs`. */
export function pushKnob(board: BoardHome, heldMs = TAP_MS): void {
  board.knobPush(true);
  board.advanceUs(heldMs * 1000);
  board.knobPush(false);
  board.advanceUs(SETTLE_MS * 1000);
}
