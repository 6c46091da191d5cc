/**
 * One pass of the evening's plan being given: which pulse comes next, what the pulses gave so far. A pulse is
 * what one `exposeUs` gives: from a piece that stops the lamp first up to the next such one.
 */
import { doseUs } from '../arithmetic/lamp';
import { refillPulse } from '../plan/lamp-test-plan';
import { eveningPlan, Segment, SegmentKind } from '../plan/plan';
import { bookPulse, pulseEnd, pulseOnUs } from '../plan/pulses';

/** The pass being given or to be given next, from 0. */
export let passIndex: i32 = 0;
/** The piece with which the next pulse begins, or the one under way began. */
export let segmentIndex: i32 = 0;
export let pauses: i32 = 0;
/** The pulse under way or next of a pass that is given in many, from 1. */
export let pulseNumber: i32 = 1;
/** What the lamp was on for, and what it gave, in this pass so far. */
export let passOnUs: u64 = 0;
export let passDoseUs: u64 = 0;

export enum Left {
  /** The pulse was cut short: its rest is next. */
  OfPulse,
  /** The next piece of the pass waits for the pedal. */
  OfPass,
  Nothing,
}

export function beginPass(index: i32): void {
  passIndex = index;
  segmentIndex = eveningPlan.pass(index).firstSegment;
  pauses = 0;
  pulseNumber = 1;
  passOnUs = 0;
  passDoseUs = 0;
}

export function nextPulseOnUs(): u32 {
  return pulseOnUs(eveningPlan, segmentIndex);
}

export function countPause(): void {
  pauses++;
}

/** Books what the pulse gave, and says what is left to give. */
export function bookLight(onUs: u32): Left {
  const end = endOfPulse();
  passOnUs += onUs;
  passDoseUs += doseUs(onUs);
  segmentIndex = bookPulse(eveningPlan, segmentIndex, onUs);
  if (segmentIndex < end) return Left.OfPulse;
  return segmentIndex < endOfPass() ? Left.OfPass : Left.Nothing;
}

export function isLastPulse(): bool {
  return pulseNumber >= i32(eveningPlan.pass(passIndex).pulses);
}

/** The same light once more, in a pass that is given in many pulses; false when it has had them all. */
export function pulseAgain(): bool {
  if (isLastPulse()) return false;
  pulseNumber++;
  segmentIndex = eveningPlan.pass(passIndex).firstSegment;
  refillPulse(eveningPlan, passIndex);
  return true;
}

export function endOfPass(): i32 {
  const pass = eveningPlan.pass(passIndex);
  return i32(pass.firstSegment) + pass.segmentCount;
}

/** The piece after the last one of the pulse that is next or under way. */
export function endOfPulse(): i32 {
  return pulseEnd(eveningPlan, segmentIndex);
}

/** What is still to be given of the pass when the pulse under way began, or will begin. */
export function restOfPassMs(): i32 {
  let restUs: u64 = 0;
  for (let index = segmentIndex, end = endOfPass(); index < end; index++) restUs += segment(index).restUs;
  const pass = eveningPlan.pass(passIndex);
  restUs += (u64(pass.pulses - pulseNumber) * u64(pass.doseMs) * 1000) / pass.pulses;
  return i32((restUs + 500) / 1000);
}

/** The piece that a pulse is in `sinceUs` after it began, and when that piece ends, counted from then. */
export let pieceEndsUs: u32 = 0;
export function pieceAfter(sinceUs: u32): i32 {
  const end = endOfPulse();
  let piece = segmentIndex;
  pieceEndsUs = segment(piece).onUs;
  while (pieceEndsUs <= sinceUs && piece + 1 < end) pieceEndsUs += segment(++piece).onUs;
  return piece;
}

export function isDodge(piece: i32): bool {
  return segment(piece).kind == SegmentKind.Dodge;
}

function segment(index: i32): Segment {
  return eveningPlan.segment(index);
}
