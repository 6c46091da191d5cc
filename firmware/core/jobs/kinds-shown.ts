/** The table of kinds of work, as the panel and a watching laptop ask it: words and rows of each. See kinds.ts. */
import { bathAt, bathRow } from '../baths/baths';
import { Job } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { put } from '../rows/row';
import { timed } from '../state/state';
import * as bracket from './bracket/bracket-rows';
import * as checkup from './checkup/checkup-rows';
import * as clock from './clock/clock-rows';
import { canBeginStep, isTapAwaited, isTapTooSoon } from './kinds';
import * as lampTest from './lamp-test/lamp-test-rows';
import * as plain from './plain/plain-rows';
import * as baths from './process/process-rows';
import { NO_TEXT } from './recipe/labels';
import * as print from './recipe/print-rows';
import * as safelight from './safelight-test/safelight-test-rows';
import * as strip from './strip/strip-rows';

/** What a tap at rest leads to, where all is ready for it. */
export function restPrompt(job: Job): usize {
  switch (job) {
    case Job.Strip:
      return ascii('Tap strip Hold focus');
    case Job.Recipe:
      return ascii('Tap print Hold focus');
    case Job.Bracket:
    case Job.Plain:
      return ascii('Tap sheet Hold focus');
    case Job.Process:
      return ascii('Tap baths Hold focus');
    case Job.Clock:
      return ascii('Tap clock Hold focus');
    case Job.Checkup:
      return ascii('Tap check Hold focus');
    default:
      return ascii('Tap test Hold focus');
  }
}

/** Before a step, and in it. */
export function stepReadyPrompt(job: Job): usize {
  if (!canBeginStep(job)) return ascii('Hold: back to rest');
  return job == Job.Process ? ascii('Tap bath Hold back') : ascii('Tap begin Hold back');
}

export function timingPrompt(job: Job): usize {
  if (isTapAwaited(job)) return ascii('Tap at first tone');
  return job == Job.Process && !isTapTooSoon(job) ? ascii('Tap next Hold back') : ascii('Hold: back to rest');
}

/** The row of its seconds at rest. */
export function drawTime(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawFirstTime();
      return;
    case Job.Recipe:
    case Job.Bracket:
      print.drawBase();
      return;
    case Job.Process:
      baths.drawFirstBathTime();
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.drawGrey();
      return;
    case Job.LampTest:
      lampTest.drawLampTestTime();
      return;
    case Job.Plain:
      plain.drawPlainTime();
      return;
  }
}

/** What it is: "6 patches, 1/2 stop", or the recipe's name. */
export function drawJob(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawStrip();
      return;
    case Job.Recipe:
      print.drawRecipeName();
      return;
    case Job.Bracket:
      bracket.drawBracket();
      return;
    case Job.Process:
      baths.drawFirstBath();
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.drawFogTest(job);
      return;
    case Job.LampTest:
      lampTest.drawLampTest();
      return;
    case Job.Plain:
      plain.drawPlain();
      return;
    case Job.Clock:
      clock.drawClock();
      return;
    case Job.Checkup:
      checkup.drawCheckup();
      return;
    default:
      put(ascii('Nothing chosen'));
  }
}

/** What is worth knowing before it is begun. */
export function drawNote(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawStripNote();
      return;
    case Job.Recipe:
      print.drawUnkept();
      return;
    case Job.Bracket:
      bracket.drawBracketNote();
      return;
    case Job.Process:
      baths.drawBathsNote();
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.drawFogTestNote();
      return;
    case Job.LampTest:
      lampTest.drawLampTestNote();
      return;
    case Job.Plain:
      plain.drawPlainNote();
      return;
    case Job.Clock:
      clock.drawClockNote();
      return;
    case Job.Checkup:
      checkup.drawCheckupNote();
      return;
  }
}

/** The figure that the knob is at, before light: rows 1 to 3. */
export function drawFigure(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawStripFigure();
      return;
    case Job.Bracket:
      bracket.drawBracketFigure();
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.drawGreyFigure(job);
      return;
    case Job.LampTest:
      lampTest.drawLampTestFigure();
      return;
    case Job.Plain:
      plain.drawPlainFigure();
      return;
    default:
      print.drawPrintFigure();
  }
}

/** The pass that is next or under way: what there is to say behind its seconds in row 1, then rows 2 and 3. */
export function drawPassOf(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawStripPass();
      return;
    case Job.Bracket:
      bracket.drawBracketPass();
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.drawGreyPass();
      return;
    case Job.LampTest:
      lampTest.drawLampTestPass();
      return;
    case Job.Plain:
      plain.drawPlainPass();
      return;
    case Job.Checkup:
      checkup.drawPullIns();
      return;
    default:
      print.drawPrintPass();
  }
}

/** What is seen on paper: rows 1 to 3. */
export function drawReading(job: Job): void {
  switch (job) {
    case Job.Strip:
      strip.drawStripReading();
      return;
    case Job.Bracket:
      bracket.drawBracketReading();
      return;
    case Job.LampTest:
      lampTest.drawLampTestReading();
      return;
    default:
      safelight.drawFogReading(job);
  }
}

/** A step before and while it is timed: rows 1 to 3. */
export function drawStep(job: Job, nowUs: i64): void {
  if (job == Job.Process) baths.drawBath(nowUs);
  else safelight.drawFog(job);
}

/** What the step is called, as a text; empty for the safelight's minutes. */
export function stepLabel(job: Job): usize {
  return job == Job.Process ? bathAt(bathRow, timed.bath).label : NO_TEXT;
}
