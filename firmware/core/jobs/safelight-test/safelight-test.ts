/** The safelight test that is chosen, its minutes, in the log, and what follows from what was seen on it. */
import { Sheet } from '../../generated/codec';
import { Finding, RunState, SettingName } from '../../generated/constants';
import { timeAfterMs } from '../../knob/turned-time';
import { beginPass } from '../../plan/giving';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { FIRST_OWN_FIGURE, NO_FIGURE } from '../../state/chosen';
import { chosen, paper, reading, timed } from '../../state/state';
import { Move } from '../moves';
import { takeSetting } from '../setting-found';
import { bandMinutes, planSafelightTest, SAFELIGHT_BANDS } from './safelight-plan';

/** Two seconds at the aperture of the last strip; to be turned to what makes a light grey. */
const FIRST_GREY_MS: i32 = 2000;
const SECONDS_IN_MINUTE: i32 = 60;

/** After power-up. */
export function chooseFirstGrey(): void {
  chosen.greyMs = FIRST_GREY_MS;
}

export function planChosenSafelightTest(): PlanCode {
  return planSafelightTest(eveningPlan, chosen.greyMs);
}

/** There is one figure, the grey; once it has been given it stays. */
export function nextGreyFigure(): i32 {
  return paper.isBegun ? NO_FIGURE : FIRST_OWN_FIGURE;
}

export function greyAfter(greyMs: i32, clicks: i32): i32 {
  return timeAfterMs(greyMs, clicks);
}

export function describeSafelightTest(entry: Sheet): void {
  entry.baseMs = chosen.greyMs;
  entry.patches = u8(SAFELIGHT_BANDS);
}

export function safelightSeconds(): i32 {
  return bandMinutes(SAFELIGHT_BANDS - 1) * SECONDS_IN_MINUTE;
}

/** How many bands the card covers by now; the first one from the beginning. */
export function bandsCovered(): i32 {
  let covered = 0;
  while (covered < SAFELIGHT_BANDS && bandMinutes(covered) * SECONDS_IN_MINUTE <= timed.elapsedSeconds)
    covered++;
  return covered;
}

/** The next move of the card, in seconds from now. */
export function nextMoveSeconds(): i32 {
  return bandMinutes(min(SAFELIGHT_BANDS - 1, bandsCovered())) * SECONDS_IN_MINUTE - timed.elapsedSeconds;
}

export function safelightMove(): Move {
  return bandMinutes(bandsCovered() - 1) * SECONDS_IN_MINUTE == timed.elapsedSeconds ? Move.Card : Move.None;
}

/** The grey after is next. */
export function endSafelight(): RunState {
  beginPass(1);
  return RunState.Ready;
}

/** For how long paper may lie out: as long as the last band that does not differ, all of it when none does. */
export function safeMinutesRead(): i32 {
  return bandMinutes(reading.choice == 0 ? SAFELIGHT_BANDS - 1 : reading.choice - 1);
}

export function takeSafelightReading(nowUs: i64): void {
  takeSetting(SettingName.SafeMinutes, Finding.SafeMinutes, safeMinutesRead(), nowUs);
}
