/** Sheets going through the baths: which bath is next or under way, and how many sheets there are. */
import { bathSeconds, drainOf } from '../../baths/bath-time';
import { bathAfter, bathAt, bathRow, countThrough } from '../../baths/baths';
import { isByTemperature, isOutsidePoints, trayC10 } from '../../baths/points';
import { RunState, SettingName } from '../../generated/constants';
import { logBathUsed, logDevelopment } from '../../log/entries';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { settingValue } from '../../settings/settings';
import { Unkept } from '../../state/keeping';
import { keeping, situation, timed } from '../../state/state';
import { Move } from '../moves';
import { takePaperIn } from '../paper-out';

/** The baths light no lamp, so their plan has no pass; one without baths is refused. */
export function planBaths(): PlanCode {
  eveningPlan.begin(true);
  return bathAfter(-1) < 0 ? PlanCode.CountOutOfRange : PlanCode.Ok;
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

/** False where the data sheet has no time for the temperature of the tray. */
export function canEnterBath(): bool {
  return !isOutsidePoints(timed.bath);
}

/** The paper goes in. */
export function enterBath(nowUs: i64): void {
  timed.wholeSeconds = bathSeconds(timed.bath);
  timed.firstToneMs = 0;
  timed.outMs = isFirstBath() ? takePaperIn(nowUs) : 0;
}

/** How long the paper stays in. */
export function secondsInBath(): i32 {
  return situation.state == RunState.Timing ? timed.wholeSeconds : bathSeconds(timed.bath);
}

/** Of the bath under way: when the paper is lifted out to drain; after the first tone, if that made the time short, at the next second. */
export function liftSeconds(): i32 {
  const lift = secondsInBath() - drainOf(timed.bath, secondsInBath());
  return max(lift, min(secondsInBath(), i32(timed.firstToneMs / 1000) + 1));
}

/** No developer is so quick: a foot that comes sooner has only started the bath twice. */
const LEAST_TONE_SECONDS: i32 = 2;

/** The paper is in the first bath, and a tap is awaited when its first tone shows. */
export function isToneAwaited(): bool {
  return isBeforeTone() && timed.elapsedSeconds >= LEAST_TONE_SECONDS;
}

/** Asked where no tap is awaited: it is too soon for that, and a tap means nothing yet. */
export function isTooSoonForTone(): bool {
  return isBeforeTone();
}

function isBeforeTone(): bool {
  return situation.state == RunState.Timing && isFirstBath() && toneFactor() != 0 && timed.firstToneMs == 0;
}

/** So many times the time to the first tone is the time in all; 0 where it does not go by that. */
export function toneFactor(): i32 {
  return settingValue(SettingName.FirstToneFactor);
}

/** The first tone shows: the time in all is so many times what has gone by (common practice, no source). */
export function takeFirstTone(nowUs: i64): void {
  timed.firstToneMs = u32(max<i64>(1, (nowUs - timed.startedUs) / 1000));
  const seconds = <i64>timed.firstToneMs * toneFactor() + 500;
  // A bath of hours was forgotten; and it is never shorter than is gone already.
  timed.wholeSeconds = max(timed.elapsedSeconds + 1, i32(min<i64>(LONGEST_SECONDS, seconds / 1000)));
}

const LONGEST_SECONDS: i64 = 0xffff;

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
  logTimes(givenMs, nowUs);
  const next = bathAfter(timed.bath);
  if (next < 0) return RunState.Done;
  timed.bath = next;
  return RunState.StepReady;
}

function logTimes(givenMs: u32, nowUs: i64): void {
  const plannedMs = u32(timed.wholeSeconds) * 1000;
  const c10 = isByTemperature(timed.bath) ? trayC10() : 0;
  const factor = timed.firstToneMs == 0 ? 0 : toneFactor();
  if (c10 != 0 || factor != 0) logDevelopment(timed.bath, c10, timed.firstToneMs, factor, plannedMs, nowUs);
  logBathUsed(timed.bath, timed.sheets, plannedMs, givenMs, timed.outMs, nowUs);
  timed.firstToneMs = 0;
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
