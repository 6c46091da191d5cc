/**
 * How fast the knob is turned: a quick turn takes a time further with each detent, a slow one is exact. It is told by
 * the times of the detents alone, so the same turning leads to the same time.
 */
import { hands } from '../state/state';

/** From one detent to the next. A knob of 20 detents goes round in 1.2 s at QUICK_US (common practice, no source). */
const BRISK_US: i64 = 120_000;
const QUICK_US: i64 = 60_000;
const BRISK_CLICKS: i32 = 3;
const QUICK_CLICKS: i32 = 6;

/** The knob went so many detents, not 0, told together. The first one of a turn, and the first one back, is a single click. */
export function noteTurn(detents: i32, nowUs: i64): void {
  const way = detents < 0 ? -1 : 1;
  const betweenUs = nowUs - hands.turnedAtUs;
  hands.clicksADetent = way == hands.turnWay ? clicksADetent(betweenUs) : 1;
  hands.turnWay = way;
  hands.turnedAtUs = nowUs;
}

function clicksADetent(betweenUs: i64): i32 {
  if (betweenUs >= BRISK_US) return 1;
  return betweenUs >= QUICK_US ? BRISK_CLICKS : QUICK_CLICKS;
}

/** What `detents` of the turn under way are worth where the knob turns a time. */
export function clicksOfTurn(detents: i32): i32 {
  return detents * hands.clicksADetent;
}

/** A quick turn went too far: from here on it is a slow one. False where it was one already. */
export function slowTurn(): bool {
  const wasQuick = hands.clicksADetent != 1;
  hands.clicksADetent = 1;
  return wasQuick;
}
