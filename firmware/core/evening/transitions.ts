/** What happens on the way from one state of the evening to another. Which way is taken is in foot.ts and knob-hand.ts. */
import { Job, MakingWay, RunState } from '../generated/constants';
import { firstChoice, isAsked, isBaths, lastChoice, takeReadingOf } from '../jobs/kinds';
import { tellPaperOut } from '../jobs/paper-out';
import { beginBaths } from '../jobs/process/process';
import { takeStoppedDownLens } from '../jobs/strip/strip-reading';
import { logFocus, logLens } from '../log/entries';
import { beginPass } from '../plan/giving';
import { Lit } from '../state/light';
import { Due } from '../state/situation';
import { given, left, light, reading, situation, timed } from '../state/state';
import { setTimer, Timer } from '../timers/timers';
import { askDate } from './asking';
import { countCheckupSecond, startCheckup } from './checking';
import { DEAF_US, enter, goToRest, leaveBaths, SECOND_US } from './enter';
import { lightIfSafe } from './exposing';
import { putOut } from './lamp-control';
import { goOnWithSheet } from './left-sheet';
import { makingWayNow, onWayDue } from './making-way';
import { planJob } from './planned-job';
import { putNextSheetIn } from './sheet';
import { countStepSecond, prepareStep } from './steps';
import { bathsAreNext, lensIsFine, sheetIsReadNext } from './what-is-next';

/** From rest on, or another sheet of the same. */
export function goOn(nowUs: i64): void {
  if (light.lit != Lit.No) return;
  if (left.isOffered) {
    if (lensIsFine()) goOnWithSheet(nowUs);
    else enter(RunState.LensCheck, nowUs);
    return;
  }
  if (!planJob()) {
    situation.due = Due.Wrong;
    goToRest(nowUs);
    return;
  }
  if (isAsked(situation.job)) {
    if (situation.job == Job.Clock) askDate(nowUs);
    else startCheckup(nowUs);
    return;
  }
  if (isBaths(situation.job)) {
    beginBaths();
    prepareStep(nowUs);
    return;
  }
  if (!lensIsFine()) {
    enter(RunState.LensCheck, nowUs);
    return;
  }
  putNextSheetIn();
  given.passes = 0;
  beginPass(0);
  enter(RunState.Ready, nowUs);
}

/** A sheet has all its light, or came through the baths: a tap goes on. */
export function goOnFromDone(nowUs: i64): void {
  if (bathsAreNext()) {
    timed.jobBefore = situation.job;
    situation.job = Job.Process;
    goOn(nowUs);
    return;
  }
  const isReadNext = sheetIsReadNext();
  leaveBaths();
  if (isReadNext) readSheet(nowUs);
  else goOn(nowUs);
}

/** The knob goes along the patches of the sheet given last; what was chosen is what it was for. */
export function readSheet(nowUs: i64): void {
  left.isOffered = false;
  situation.job = reading.unread;
  reading.stopsDown = 0;
  reading.choice = firstChoice(reading.unread);
  enter(RunState.Choosing, nowUs);
}

export function turnChoice(clicks: i32): void {
  if (reading.stopsDown != 0) return;
  reading.choice = max(0, min(lastChoice(reading.unread), reading.choice + clicks));
}

/** What the knob has turned to is so. A base too short to dodge in leads on to stopping the lens down. */
export function takeReading(nowUs: i64): void {
  if (reading.stopsDown != 0) {
    takeStoppedDownLens(nowUs);
  } else {
    reading.stopsDown = takeReadingOf(reading.unread, nowUs);
    reading.unread = Job.None;
    if (reading.stopsDown != 0) return;
  }
  goToRest(nowUs);
}

export function focus(nowUs: i64): void {
  if (light.lit != Lit.No) return;
  situation.lensConfirmed = false;
  enter(RunState.Focus, nowUs);
  lightIfSafe(nowUs);
}

export function leaveFocus(nowUs: i64): void {
  putOut();
  goOnFromFocus(nowUs);
}

/** The light for focusing has gone out, by itself or by the pedal. */
export function endFocus(onUs: u32, nowUs: i64): void {
  logFocus(onUs, nowUs);
  if (situation.state != RunState.Focus) return;
  situation.deafUntilUs = nowUs + DEAF_US;
  goOnFromFocus(nowUs);
}

function goOnFromFocus(nowUs: i64): void {
  if (lensIsFine()) goToRest(nowUs);
  else enter(RunState.LensCheck, nowUs);
}

export function confirmLens(nowUs: i64): void {
  situation.lensConfirmed = true;
  logLens(nowUs);
  goToRest(nowUs);
}

/** Timer.PaperOut has come. */
export function onPaperOut(nowUs: i64): void {
  if (tellPaperOut(nowUs)) situation.due = Due.Wrong;
}

/** Timer.Second has come. */
export function onSecond(nowUs: i64): void {
  setTimer(Timer.Second, nowUs + SECOND_US);
  situation.toldUs = nowUs;
  if (makingWayNow() != MakingWay.NotAsked) onWayDue(nowUs);
  else if (situation.state == RunState.Timing) countStepSecond(nowUs);
  else if (situation.state == RunState.Exposing) situation.due = Due.Second;
  else if (situation.state == RunState.Asking) countCheckupSecond();
}
