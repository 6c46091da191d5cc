/**
 * One pass of the evening's plan being given: which pulse comes next, what the pulses gave so far. A pulse is
 * what one `exposeUs` gives: from a piece that stops the lamp first up to the next such one.
 */
import { COLD, warmDoseUs } from '../arithmetic/lamp';
import { Lit } from '../state/light';
import { given, light, situation } from '../state/state';
import { eveningPlan, PieceKind, PlannedPass } from './plan';
import { bookPulse, compensatePulse, pulseEnd, pulseOnUs, refillPulse } from './pulses';

export enum Left {
  /** The pulse was cut short: its rest is next. */
  OfPulse,
  /** The next piece of the pass waits for the pedal. */
  OfPass,
  Nothing,
}

export function beginPass(index: i32): void {
  given.pass = index;
  given.piece = eveningPlan.pass(index).firstPiece;
  given.pauses = 0;
  given.pulse = 1;
  given.isRest = false;
  given.mostMs = 0;
  given.onUs = 0;
  given.doseUs = 0;
}

/** The relay's time for the pulse that begins now, at `warmth`. How long a pause was is known only when it is over. */
export function nextPulseOnUs(warmth: f64): u32 {
  if (warmth != COLD) compensatePulse(eveningPlan, given.piece, warmth);
  return pulseOnUs(eveningPlan, given.piece);
}

/** Books what the pulse gave, from the warmth on that it began with, and says what is left to give. */
export function bookLight(onUs: u32): Left {
  const end = endOfPulse();
  given.onUs += onUs;
  given.doseUs += warmDoseUs(onUs, light.warmth);
  const next = bookPulse(eveningPlan, given.piece, onUs, light.warmth);
  given.piece = next;
  if (next < end) return Left.OfPulse;
  return next < endOfPass() ? Left.OfPass : Left.Nothing;
}

/** The one that is being given, or is next. */
export function passNow(): PlannedPass {
  return eveningPlan.pass(given.pass);
}

export function markPassGiven(): void {
  given.passes |= 1 << given.pass;
}

export function isGiven(pass: i32): bool {
  return ((given.passes >> pass) & 1) != 0;
}

/** The next pass that the sheet has not had, behind the one under way; the count of passes where there is none. */
export function passDueAfter(): i32 {
  let pass = given.pass + 1;
  while (pass < eveningPlan.passCount && isGiven(pass)) pass++;
  return pass;
}

/** How many passes before this one the sheet has not had, and the first of them. */
export function passesLeftOut(before: i32): i32 {
  let count = 0;
  for (let pass = 0; pass < before; pass++) if (!isGiven(pass)) count++;
  return count;
}
export function firstLeftOut(): i32 {
  let pass = 0;
  while (isGiven(pass)) pass++;
  return pass;
}

export function isLastPass(): bool {
  return passDueAfter() == eveningPlan.passCount;
}

export function isLastPulse(): bool {
  return given.pulse >= i32(passNow().pulses);
}

/** The same light once more, in a pass that is given in many pulses; false when it has had them all. */
export function beginPulseAgain(): bool {
  if (isLastPulse()) return false;
  given.pulse++;
  given.piece = passNow().firstPiece;
  refillPulse(eveningPlan, given.pass);
  return true;
}

function endOfPass(): i32 {
  const pass = passNow();
  return i32(pass.firstPiece) + pass.pieceCount;
}

/** Some of the pass that is next was given already; one of many pulses has a fraction of a millisecond over its piece. */
export function isPartlyGiven(): bool {
  const piece = eveningPlan.piece(given.piece);
  return (
    given.piece != i32(passNow().firstPiece) || given.pulse > 1 || piece.restUs < u32(piece.doseMs) * 1000
  );
}

/** The piece after the last one of the pulse that is next or under way. */
export function endOfPulse(): i32 {
  return pulseEnd(eveningPlan, given.piece);
}

/** What is still to be given of the pass when the pulse under way began, or will begin. */
export function restOfPassMs(): i32 {
  let restUs: u64 = 0;
  for (let index = given.piece, end = endOfPass(); index < end; index++)
    restUs += eveningPlan.piece(index).restUs;
  const pass = passNow();
  restUs += (u64(pass.pulses - given.pulse) * u64(pass.doseMs) * 1000) / pass.pulses;
  return i32((restUs + 500) / 1000);
}

/** The piece that a pulse is in `sinceUs` after it began; `given.pieceEndsUs` says when that ends, counted from then. */
export function pieceAt(sinceUs: u32): i32 {
  const end = endOfPulse();
  let piece = given.piece;
  let endsUs = eveningPlan.piece(piece).onUs;
  while (endsUs <= sinceUs && piece + 1 < end) endsUs += eveningPlan.piece(++piece).onUs;
  given.pieceEndsUs = endsUs;
  return piece;
}

/** The piece being given as far as it has been told, or the next one. */
export function pieceNow(): i32 {
  return light.lit == Lit.Paper ? pieceAt(u32(situation.toldUs - light.sinceUs)) : given.piece;
}

export function isDodge(piece: i32): bool {
  return eveningPlan.piece(piece).kind == PieceKind.Dodge;
}
