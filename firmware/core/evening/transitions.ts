/** What happens on the way from one state of the evening to another. Which way is taken is in evening.ts. */
import { Job, RunState, SettingName } from '../generated/constants';
import { logFocus, logLens } from '../log/entries';
import { settingValue } from '../settings/settings';
import { setTimer, stopTimer, Timer } from '../timers/timers';
import { lightIfSafe } from './exposing';
import { stopTurning } from './figure';
import { planJob } from './job';
import { Lit, lightRoom, lit, putOut } from './lamp-control';
import { paperIsTold } from './paper-out';
import { beginPass } from './pass';
import { followWithBaths, jobBeforeBaths, leaveBaths } from './processing';
import { beginReading, closingStops, takeClosedLens, unreadJob } from './reading';
import { nextSheet } from './sheet';
import { Due, situation } from './situation';
import { stepSecond, toBaths } from './steps';
import { takeChoice } from './take-choice';

/** A foot that started the lamp is not asked again so soon; nor can it have meant a lamp that just went out. */
export const DEAF_US: i64 = 250_000;
export const SECOND_US: i64 = 1_000_000;

export function enter(state: RunState, nowUs: i64): void {
  situation.state = state;
  stopTurning();
  stopTimer(Timer.Second);
  stopTimer(Timer.Segment);
  stopTimer(Timer.Pulse);
  situation.pulseDue = false;
  situation.toldUs = nowUs;
  if (state != RunState.Exposing) lightRoom();
}

/** Plans what was chosen anew, and from `done` goes back to rest, since another sheet would be something else. */
export function planAnew(nowUs: i64): void {
  if (situation.state == RunState.Done) {
    rest(nowUs);
    return;
  }
  planJob();
}

export function rest(nowUs: i64): void {
  situation.startWanted = false;
  leaveBaths();
  if (lit != Lit.Paper) planJob();
  enter(RunState.Rest, nowUs);
}

/** From rest on, or another sheet of the same. */
export function next(nowUs: i64): void {
  if (lit != Lit.No) return;
  if (!planJob()) {
    situation.due = Due.Wrong;
    rest(nowUs);
    return;
  }
  if (situation.job == Job.Process) {
    toBaths(nowUs);
    return;
  }
  if (!lensIsFine()) {
    enter(RunState.LensCheck, nowUs);
    return;
  }
  nextSheet();
  beginPass(0);
  enter(RunState.Ready, nowUs);
}

/** A sheet has all its light, or came through the baths: a tap goes on. */
export function goOn(nowUs: i64): void {
  if (bathsAreNext()) {
    followWithBaths();
    next(nowUs);
    return;
  }
  const isRead = sheetIsRead();
  leaveBaths();
  if (isRead) readSheet(nowUs);
  else next(nowUs);
}

/** What was given is to be developed, as far as the board knows. */
export function bathsAreNext(): bool {
  return situation.job != Job.Process && settingValue(SettingName.BathFollows) != 0;
}

/** Patches that went through the baths are looked at next. */
export function sheetIsRead(): bool {
  return situation.job == Job.Process && jobBeforeBaths != Job.None && unreadJob == jobBeforeBaths;
}

/** The knob goes along the patches of the sheet given last; what was chosen is what it was for. */
export function readSheet(nowUs: i64): void {
  situation.job = unreadJob;
  beginReading();
  enter(RunState.Choosing, nowUs);
}

/** What the knob has turned to is so. */
export function takeReading(nowUs: i64): void {
  if (closingStops != 0) takeClosedLens(nowUs);
  else if (takeChoice(nowUs)) return;
  rest(nowUs);
}

export function lensIsFine(): bool {
  return situation.lensConfirmed || settingValue(SettingName.LensCheck) == 0;
}

export function focus(nowUs: i64): void {
  if (lit != Lit.No) return;
  situation.lensConfirmed = false;
  enter(RunState.Focus, nowUs);
  lightIfSafe(nowUs);
}

export function leaveFocus(nowUs: i64): void {
  putOut();
  afterFocus(nowUs);
}

export function focusEnded(onUs: u32, nowUs: i64): void {
  logFocus(onUs, nowUs);
  if (situation.state != RunState.Focus) return;
  situation.deafUntilUs = nowUs + DEAF_US;
  afterFocus(nowUs);
}

function afterFocus(nowUs: i64): void {
  if (lensIsFine()) rest(nowUs);
  else enter(RunState.LensCheck, nowUs);
}

export function confirmLens(nowUs: i64): void {
  situation.lensConfirmed = true;
  logLens(nowUs);
  rest(nowUs);
}

/** Timer.PaperOut has come. */
export function onPaperOut(nowUs: i64): void {
  if (paperIsTold(nowUs)) situation.due = Due.Wrong;
}

/** Timer.Second has come. */
export function onSecond(nowUs: i64): void {
  setTimer(Timer.Second, nowUs + SECOND_US);
  situation.toldUs = nowUs;
  if (situation.state == RunState.Timing) stepSecond(nowUs);
  else if (situation.state == RunState.Exposing) situation.due = Due.Second;
}
