/** The safelight test, or the one of stray light, that is chosen: its minutes, in the log, and what follows from what was seen on it. */
import { Sheet } from '../../generated/codec';
import { ExposureKind, Finding, Job, RunState, SettingName } from '../../generated/constants';
import { timeAfterMs } from '../../knob/turned-time';
import { beginPass } from '../../plan/giving';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { FIRST_OWN_FIGURE, NO_FIGURE } from '../../state/chosen';
import { chosen, paper, reading, timed } from '../../state/state';
import { Move } from '../moves';
import { takeFinding, takeSetting } from '../setting-found';
import { bandMinutes, FOG_BANDS, planFogTest } from './safelight-plan';

/** Two seconds at the aperture of the last strip; to be turned to what makes a light grey. */
const FIRST_GREY_MS: i32 = 2000;
const SECONDS_IN_MINUTE: i32 = 60;

/** After power-up. */
export function chooseFirstGrey(): void {
  chosen.greyMs = FIRST_GREY_MS;
}

export function planChosenFogTest(job: Job): PlanCode {
  const kind = job == Job.StrayLightTest ? ExposureKind.Stray : ExposureKind.Safelight;
  return planFogTest(eveningPlan, kind, chosen.greyMs);
}

/** There is one figure, the grey; once it has been given it stays. */
export function nextGreyFigure(): i32 {
  return paper.isBegun ? NO_FIGURE : FIRST_OWN_FIGURE;
}

export function greyAfter(greyMs: i32, clicks: i32): i32 {
  return timeAfterMs(greyMs, clicks);
}

export function describeFogTest(entry: Sheet): void {
  entry.baseMs = chosen.greyMs;
  entry.patches = u8(FOG_BANDS);
}

export function fogSeconds(): i32 {
  return bandMinutes(FOG_BANDS - 1) * SECONDS_IN_MINUTE;
}

/** How many bands the card covers by now; the first one from the beginning. */
export function bandsCovered(): i32 {
  let covered = 0;
  while (covered < FOG_BANDS && bandMinutes(covered) * SECONDS_IN_MINUTE <= timed.elapsedSeconds) covered++;
  return covered;
}

/** The next move of the card, in seconds from now. */
export function nextMoveSeconds(): i32 {
  return bandMinutes(min(FOG_BANDS - 1, bandsCovered())) * SECONDS_IN_MINUTE - timed.elapsedSeconds;
}

export function fogMove(): Move {
  return bandMinutes(bandsCovered() - 1) * SECONDS_IN_MINUTE == timed.elapsedSeconds ? Move.Card : Move.None;
}

/** The grey after is next. */
export function endFog(): RunState {
  beginPass(1);
  return RunState.Ready;
}

/** The knob goes along the bands, from the second on, to the first that differs; behind the last, none does. */
export function isAnyFogged(): bool {
  return reading.choice != FOG_BANDS - 1;
}

/** For how long paper may lie out: as long as the last band that does not differ, all of it when none does. */
export function safeMinutesRead(): i32 {
  return bandMinutes(reading.choice);
}

export function takeFogReading(job: Job, nowUs: i64): void {
  const minutes = safeMinutesRead();
  if (job == Job.StrayLightTest) takeFinding(Finding.DarkMinutes, minutes, nowUs);
  else takeSetting(SettingName.SafeMinutes, Finding.SafeMinutes, minutes, nowUs);
}
