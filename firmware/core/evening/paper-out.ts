/**
 * How long paper has been out in the safelight: from the first light on it to the first bath. The oldest sheet that
 * is still out counts, where the board is told of the baths.
 */
import { Job, RunState, SettingName } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { NEVER, setTimer, stopTimer, Timer } from '../timers/timers';
import { situation } from './situation';

const MINUTE_US: i64 = 60_000_000;
/** Beyond this a printer has gone home. */
const LONGEST_OUT_MS: i64 = 24 * 60 * 60 * 1000;

let sinceUs: i64 = NEVER;
let oldestSheet: i32 = 0;

/** After power-up. */
export function noPaperOut(): void {
  sinceUs = NEVER;
  stopTimer(Timer.PaperOut);
}

/** Light falls on sheet `sheet`. Paper of the safelight test lies out on purpose. */
export function paperIsOut(sheet: i32, nowUs: i64): void {
  if (sinceUs != NEVER || situation.job == Job.SafelightTest) return;
  sinceUs = nowUs;
  oldestSheet = sheet;
  if (safeMinutes() >= 0) setTimer(Timer.PaperOut, nowUs + <i64>firstToldMinutes() * MINUTE_US);
}

/** Where no minute is safe, the first tone waits one, until the exposure that it began with may be over. */
function firstToldMinutes(): i32 {
  return max(1, safeMinutes());
}

/** Timer.PaperOut has come, and will come again each minute. True the first time, where the panel tells of it. */
export function paperIsTold(nowUs: i64): bool {
  setTimer(Timer.PaperOut, nowUs + MINUTE_US);
  return isOutTooLong(nowUs) && outMinutes(nowUs) == firstToldMinutes();
}

/** Sheet `sheet` went into the bin; or another one takes its place, and nobody tells the board of baths. */
export function paperIsGone(sheet: i32): void {
  if (sheet == oldestSheet) noPaperOut();
}

/** A fresh sheet comes out of the box. */
export function freshPaper(): void {
  if (settingValue(SettingName.BathFollows) == 0) noPaperOut();
}

/** The paper goes into the first bath: for how many milliseconds it has been out. */
export function takePaperIn(nowUs: i64): u32 {
  const outMs = sinceUs == NEVER ? 0 : min<i64>(LONGEST_OUT_MS, (nowUs - sinceUs) / 1000);
  noPaperOut();
  return u32(outMs);
}

/** The safelight test says that it should not have been out so long; told where the printer can still hurry. */
export function isOutTooLong(nowUs: i64): bool {
  return (
    isTold() && sinceUs != NEVER && safeMinutes() >= 0 && nowUs - sinceUs >= <i64>safeMinutes() * MINUTE_US
  );
}

function isTold(): bool {
  switch (situation.state) {
    case RunState.Done:
    case RunState.StepReady:
      return true;
    case RunState.Rest:
      return settingValue(SettingName.BathFollows) != 0;
    default:
      return false;
  }
}

export function outMinutes(nowUs: i64): i32 {
  return i32(min<i64>(LONGEST_OUT_MS / 60_000, (nowUs - sinceUs) / MINUTE_US));
}

function safeMinutes(): i32 {
  return settingValue(SettingName.SafeMinutes);
}
