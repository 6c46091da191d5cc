/**
 * Turns doses into relay times, pulse by pulse, and keeps the account of what a pulse really gave. Rests are
 * carried in microseconds, so that any number of pauses adds up to the dose asked for.
 */
import { doseUs, onUsForDose, onUsForLight } from '../arithmetic/lamp';
import { Plan, STOPS_FIRST } from './plan';

/** A rest that rounds to 0 ms is none. */
const NOTHING_LEFT_US: i64 = 500;

/** The segment after the last one of the pulse that begins with segment `first`. */
export function pulseEnd(plan: Plan, first: i32): i32 {
  let end = first + 1;
  while (end < plan.segmentCount && !(plan.segment(end).flags & STOPS_FIRST)) end += 1;
  return end;
}

/** The relay's time for the whole pulse that begins with segment `first`. */
export function pulseOnUs(plan: Plan, first: i32): u32 {
  let onUs: u32 = 0;
  for (let index = first, end = pulseEnd(plan, first); index < end; index += 1) {
    onUs += plan.segment(index).onUs;
  }
  return onUs;
}

/**
 * Sets `onUs` of every segment of the pulse that begins with segment `first`. Within a pulse one segment ends
 * where the light so far makes up its dose; the last one has the afterglow as well. False if the afterglow
 * alone would give the last segment more than its dose.
 */
export function compensatePulse(plan: Plan, first: i32): bool {
  const last = pulseEnd(plan, first) - 1;
  let dose: u32 = 0;
  let reachedUs: u32 = 0;
  for (let index = first; index < last; index += 1) {
    const segment = plan.segment(index);
    dose += segment.restUs;
    const untilUs = onUsForLight(dose);
    segment.onUs = untilUs - reachedUs;
    reachedUs = untilUs;
  }
  const segment = plan.segment(last);
  const offUs = onUsForDose(dose + segment.restUs);
  segment.onUs = offUs > reachedUs ? offUs - reachedUs : 0;
  return offUs > reachedUs;
}

/**
 * Books a pulse that began with segment `first` and lasted `measuredOnUs`, whether it was paused or ran to its
 * end: what it gave is taken from its segments in their order. Answers the segment to go on with, which then
 * begins a pulse of its own, compensated; that is the end of this pulse if nothing of it is left.
 */
export function bookPulse(plan: Plan, first: i32, measuredOnUs: u32): i32 {
  const end = pulseEnd(plan, first);
  // Below zero: owed by a segment whose rest was too small to give.
  let givenUs = <i64>doseUs(measuredOnUs);
  for (let index = first; index < end; index += 1) {
    const segment = plan.segment(index);
    const leftUs = <i64>segment.restUs - givenUs;
    if (leftUs >= NOTHING_LEFT_US) {
      segment.restUs = <u32>leftUs;
      segment.flags |= STOPS_FIRST;
      compensatePulse(plan, index);
      return index;
    }
    segment.restUs = 0;
    segment.onUs = 0;
    givenUs = -leftUs;
  }
  settleWithNext(plan, end, givenUs);
  return end;
}

/** The next pulse of the same pass makes up for what this one gave too much or too little. */
function settleWithNext(plan: Plan, next: i32, surplusUs: i64): void {
  if (next == plan.segmentCount || plan.segment(next).pass != plan.segment(next - 1).pass) return;
  const segment = plan.segment(next);
  segment.restUs = <u32>max<i64>(NOTHING_LEFT_US, <i64>segment.restUs - surplusUs);
  compensatePulse(plan, next);
}
