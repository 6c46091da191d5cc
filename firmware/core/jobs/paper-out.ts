/**
 * How long paper has been out in the safelight: from the first light on it to the first bath. The oldest sheet that
 * is still out counts, where the board is told of the baths.
 */
import { RunState, SettingName } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { paper, situation } from '../state/state';
import { setTimer, stopTimer, Timer } from '../timers/timers';

const MINUTE_US: i64 = 60_000_000;
/** Beyond this a printer has gone home. */
const LONGEST_OUT_MS: i64 = 24 * 60 * 60 * 1000;

/** Light falls on the sheet; or did, and the sheet that was taken for binned is still there. */
export function takePaperOut(nowUs: i64): void {
  if (paper.isOut) return;
  paper.isOut = true;
  paper.outSinceUs = nowUs;
  paper.oldestOut = paper.sheet;
  if (safeMinutes() >= 0) setTimer(Timer.PaperOut, nowUs + <i64>firstToldMinutes() * MINUTE_US);
}

/** Where no minute is safe, the first tone waits one, until the exposure that it began with may be over. */
function firstToldMinutes(): i32 {
  return max(1, safeMinutes());
}

/** Timer.PaperOut has come, and will come again each minute. True the first time, where the panel tells of it. */
export function tellPaperOut(nowUs: i64): bool {
  setTimer(Timer.PaperOut, nowUs + MINUTE_US);
  return isOutTooLong(nowUs) && outMinutes(nowUs) == firstToldMinutes();
}

/** The sheet went into the bin. */
export function binPaper(): void {
  if (paper.sheet == paper.oldestOut) forgetPaperOut();
}

/** A fresh sheet comes out of the box; where nobody tells the board of baths, it takes the other one's place. */
export function takeFreshPaper(): void {
  if (settingValue(SettingName.BathFollows) == 0) forgetPaperOut();
}

/** The paper goes into the first bath: for how many milliseconds it has been out. */
export function takePaperIn(nowUs: i64): u32 {
  const outMs = paper.isOut ? min<i64>(LONGEST_OUT_MS, (nowUs - paper.outSinceUs) / 1000) : 0;
  forgetPaperOut();
  return u32(outMs);
}

function forgetPaperOut(): void {
  paper.isOut = false;
  stopTimer(Timer.PaperOut);
}

/** The safelight test says that it should not have been out so long; told where the printer can still hurry. */
export function isOutTooLong(nowUs: i64): bool {
  return (
    isTold() &&
    paper.isOut &&
    safeMinutes() >= 0 &&
    nowUs - paper.outSinceUs >= <i64>safeMinutes() * MINUTE_US
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
  return i32(min<i64>(LONGEST_OUT_MS / 60_000, (nowUs - paper.outSinceUs) / MINUTE_US));
}

function safeMinutes(): i32 {
  return settingValue(SettingName.SafeMinutes);
}
