/** Sheets going through the baths: which bath is next or under way, and how many sheets there are. */
import { bathAfter, bathAt, bathRow, bathSeconds, countThrough, drainSeconds } from '../../baths/baths';
import { RunState } from '../../generated/constants';
import { logBathUsed } from '../../log/entries';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { Unkept } from '../../state/keeping';
import { keeping, timed } from '../../state/state';
import { Move } from '../moves';
import { takePaperIn } from '../paper-out';

/** The baths light no lamp, so their plan has no pass; one without baths is refused. */
export function planBaths(): PlanCode {
  eveningPlan.begin(0, true);
  return bathAfter(-1) < 0 ? eveningPlan.refuse(PlanCode.CountOutOfRange, -1, -1, 0, 0) : PlanCode.Ok;
}

/** Another sheet comes to the baths, however many the last bath had: prints that wait in water are washed together. */
export function beginBaths(): void {
  timed.sheets = 1;
  goToFirstBath();
}

/** There must be a bath, as `planBaths` says. */
export function goToFirstBath(): void {
  timed.bath = bathAfter(-1);
}

export function isFirstBath(): bool {
  return bathAfter(-1) == timed.bath;
}

/** The paper goes in. */
export function enterBath(nowUs: i64): void {
  timed.outMs = isFirstBath() ? takePaperIn(nowUs) : 0;
}

/** How long the paper stays in. */
export function secondsInBath(): i32 {
  return bathSeconds(timed.bath);
}

/** When the paper is lifted out to drain. */
export function liftSeconds(): i32 {
  return secondsInBath() - drainSeconds(timed.bath);
}

export function bathMove(): Move {
  const elapsed = timed.elapsedSeconds;
  if (elapsed == liftSeconds()) return Move.Lift;
  const every = i32(bathAt(bathRow, timed.bath).agitationSeconds);
  const isDue = every != 0 && elapsed % every == 0 && elapsed < liftSeconds();
  return isDue ? Move.Agitate : Move.None;
}

/** The paper comes out after `givenMs`: it is counted, and the next bath is ready for it if there is one. */
export function leaveBath(givenMs: u32, nowUs: i64): RunState {
  countThrough(timed.bath, timed.sheets);
  keeping.waiting |= Unkept.Baths;
  logBathUsed(timed.bath, timed.sheets, givenMs, timed.outMs, nowUs);
  const next = bathAfter(timed.bath);
  if (next < 0) return RunState.Done;
  timed.bath = next;
  return RunState.StepReady;
}

/** Which of those that the paper goes into it is, from 1, for the panel. */
export function bathNumber(): i32 {
  let number = 0;
  for (let index = bathAfter(-1); index >= 0 && index <= timed.bath; index = bathAfter(index)) number++;
  return number;
}

export function bathsInAll(): i32 {
  let count = 0;
  for (let index = bathAfter(-1); index >= 0; index = bathAfter(index)) count++;
  return count;
}
