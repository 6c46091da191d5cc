/**
 * Turns doses into relay times, pulse by pulse, and keeps the account of what a pulse really gave. Rests are
 * carried in microseconds, so that any number of pauses adds up to the dose asked for.
 */
import { COLD, glowUs, onUsForLight, warmDoseUs, warmOnUsForDose } from '../arithmetic/lamp';
import { BEGUN, Plan, STOPS_FIRST } from './plan';

/** From the end of a pulse to the next of a pass that is given in many, for a filament to go cold. */
export const PULSE_GAP_US: i64 = 750_000;
/** The same with no lamp at the relay, for a coil to let go and the supply to be back. */
export const PULL_IN_GAP_US: i64 = 200_000;

/** A rest that rounds to 0 ms is none. */
const NOTHING_LEFT_US: i64 = 500;

/** The piece after the last one of the pulse that begins with piece `first`. */
export function pulseEnd(plan: Plan, first: i32): i32 {
  let end = first + 1;
  while (end < plan.pieceCount && !(plan.piece(end).flags & STOPS_FIRST)) end += 1;
  return end;
}

/** The relay's time for the whole pulse that begins with piece `first`. */
export function pulseOnUs(plan: Plan, first: i32): u32 {
  let onUs: u32 = 0;
  for (let index = first, end = pulseEnd(plan, first); index < end; index += 1) {
    onUs += plan.piece(index).onUs;
  }
  return onUs;
}

/**
 * Sets `onUs` of every piece of the pulse that begins with piece `first` at the lamp's `warmth`. Within a pulse one
 * piece ends where the light so far makes up its dose; the last one has the afterglow as well. False if the
 * afterglow alone would give the last piece more than its dose.
 */
export function compensatePulse(plan: Plan, first: i32, warmth: f64): bool {
  const last = pulseEnd(plan, first) - 1;
  // A piece that goes on had the glow counted as its own; to one that begins it is light like any other.
  const glow: u32 = plan.piece(first).flags & BEGUN ? glowUs(warmth) : 0;
  let dose: u32 = 0;
  let reachedUs: u32 = 0;
  for (let index = first; index < last; index += 1) {
    const piece = plan.piece(index);
    dose += piece.restUs;
    const untilUs = onUsForLight(dose + glow, warmth);
    piece.onUs = untilUs - reachedUs;
    reachedUs = untilUs;
  }
  const piece = plan.piece(last);
  const offUs = warmOnUsForDose(dose + piece.restUs, warmth);
  piece.onUs = offUs > reachedUs ? offUs - reachedUs : 0;
  return offUs > reachedUs;
}

/**
 * Books a pulse that began with piece `first` at `warmth` and lasted `measuredOnUs`, whether it was paused or ran to its
 * end: what it gave is taken from its pieces in their order. Answers the piece to go on with, which then
 * begins a pulse of its own, compensated as of a cold lamp; that is the end of this pulse if nothing of it is left.
 */
export function bookPulse(plan: Plan, first: i32, measuredOnUs: u32, warmth: f64): i32 {
  const end = pulseEnd(plan, first);
  // Below zero: owed by a piece whose rest was too small to give.
  let givenUs = <i64>warmDoseUs(measuredOnUs, warmth);
  for (let index = first; index < end; index += 1) {
    const piece = plan.piece(index);
    const leftUs = <i64>piece.restUs - givenUs;
    if (leftUs >= NOTHING_LEFT_US) {
      piece.restUs = <u32>leftUs;
      piece.flags |= STOPS_FIRST | BEGUN;
      compensatePulse(plan, index, COLD);
      return index;
    }
    piece.restUs = 0;
    piece.onUs = 0;
    givenUs = -leftUs;
  }
  settleWithNext(plan, end, givenUs);
  return end;
}

/** The next pulse of the same pass makes up for what this one gave too much or too little. */
function settleWithNext(plan: Plan, next: i32, surplusUs: i64): void {
  if (next == plan.pieceCount || plan.piece(next).pass != plan.piece(next - 1).pass) return;
  const piece = plan.piece(next);
  piece.restUs = <u32>max<i64>(NOTHING_LEFT_US, <i64>piece.restUs - surplusUs);
  compensatePulse(plan, next, COLD);
}

/** A pulse that begins with piece `first`, of which so much is left. */
export function refitPulse(plan: Plan, first: i32, restUs: u32): void {
  plan.piece(first).restUs = restUs;
  compensatePulse(plan, first, COLD);
}

/** The one piece of pass `index` has all its light before it again: the next pulse is as the one before. */
export function refillPulse(plan: Plan, index: i32): void {
  const pass = plan.pass(index);
  refitPulse(plan, pass.firstPiece, (u32(pass.doseMs) * 1000) / u32(pass.pulses));
}
