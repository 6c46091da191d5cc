/** At rest, and when a sheet or a bath is done: what was chosen, and what is still to be done about it. */
import { bathAfter, bathAt, bathRow, bathSeconds } from '../baths/baths';
import { bracketPass } from '../evening/bracket';
import { spread } from '../evening/figure';
import { recipeChanged } from '../evening/job';
import { keepingRecipe } from '../evening/keep';
import { isOutTooLong, outMinutes } from '../evening/paper-out';
import { bathsInAll, sheetsInBaths } from '../evening/processing';
import { unreadJob } from '../evening/reading';
import { sheetNumber } from '../evening/sheet';
import { Refusal, situation } from '../evening/situation';
import { firstLagMs, greyMs, testLagMs } from '../evening/tests-on-paper';
import { DISPLAY_COLUMNS, Job } from '../generated/constants';
import { LAMP_TEST_MS, LAMP_TEST_PATCHES } from '../plan/lamp-test-plan';
import { eveningPlan } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeBeginAt, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { putCounted, putMinutes, putSeconds, putStops } from './figures';
import { refusalWords } from './refusal-words';
import { beginRow, columnsLeft, put, putNumber, putText } from './row';

export function drawRest(nowUs: i64): void {
  beginRow(1);
  drawTime();
  beginRow(2);
  drawJob();
  beginRow(3);
  if (situation.refusal != Refusal.None) put(refusalWords(situation.refusal));
  else if (isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else if (unreadJob != Job.None && unreadJob == situation.job) put(ascii('Push knob: read it'));
  else drawNote();
}

/** "Paper out 12 min!" */
export function drawPaperOut(nowUs: i64): void {
  put(ascii('Paper out '));
  putNumber(outMinutes(nowUs));
  put(ascii(' min!'));
}

function drawTime(): void {
  switch (situation.job) {
    case Job.Strip:
      putSeconds(spread().firstMs);
      put(ascii(' first'));
      return;
    case Job.Recipe:
    case Job.Bracket:
      putSeconds(recipeHeadAt(activeRecipe).baseMs);
      put(ascii(' base'));
      return;
    case Job.Process:
      drawFirstBathTime();
      return;
    case Job.SafelightTest:
      putSeconds(greyMs);
      put(ascii(' light grey'));
      return;
    case Job.LampTest:
      putSeconds(LAMP_TEST_MS);
      put(ascii(' mid grey'));
      return;
  }
}

function drawFirstBathTime(): void {
  const first = bathAfter(-1);
  if (first >= 0) putMinutes(bathSeconds(first));
}

/** "6 patches, 1/2 stop", or the recipe's name, or what it is. */
export function drawJob(): void {
  switch (situation.job) {
    case Job.Strip:
      drawSpread(ascii(' patches, '));
      return;
    case Job.Bracket:
      drawSpread(ascii(' versions, '));
      return;
    case Job.Recipe:
      putText(recipeBeginAt(activeRecipe).name);
      return;
    case Job.Process:
      if (bathAfter(-1) >= 0) putText(bathAt(bathRow, bathAfter(-1)).label);
      return;
    case Job.SafelightTest:
      put(ascii('Safelight test'));
      return;
    case Job.LampTest:
      put(ascii('Lamp test'));
      return;
    default:
      put(ascii('Nothing chosen'));
  }
}

function drawSpread(patches: usize): void {
  putNumber(spread().patches);
  put(patches);
  if (spread().stepStops120 == 0) {
    putSeconds(spread().stepMs);
    return;
  }
  putStops(spread().stepStops120);
  if (columnsLeft() >= 3) put(ascii(' st'));
}

/** What is worth knowing before it is begun. */
function drawNote(): void {
  switch (situation.job) {
    case Job.Bracket:
      put(ascii('of '));
      putText(recipePassAt(activeRecipe, bracketPass).label);
      return;
    case Job.Process:
      drawBaths();
      return;
    case Job.LampTest:
      putNumber(firstLagMs);
      put(ascii(' to '));
      putNumber(testLagMs(LAMP_TEST_PATCHES - 1));
      put(ascii(' ms lag'));
      return;
    default:
      drawUnkept();
  }
}

function drawUnkept(): void {
  if (situation.job != Job.Recipe) return;
  if (keepingRecipe) put(ascii('Keeping it ...'));
  else if (recipeChanged) put(ascii('Hold knob: keep it'));
}

export function drawDone(nowUs: i64): void {
  beginRow(1);
  if (situation.job == Job.Process) {
    drawBathsDone();
    return;
  }
  putSeconds(plannedMs());
  put(ascii(' in all'));
  beginRow(2);
  drawUnkept();
  if (columnsLeft() == DISPLAY_COLUMNS) drawJob();
  beginRow(3);
  if (isOutTooLong(nowUs)) {
    drawPaperOut(nowUs);
    return;
  }
  put(ascii('Sheet '));
  putNumber(sheetNumber);
  put(unreadJob == situation.job ? ascii(': turn knob') : ascii(' done'));
}

function drawBathsDone(): void {
  putCounted(sheetsInBaths, ascii(' sheet through'), ascii(' sheets through'));
  beginRow(2);
  drawBaths();
}

function drawBaths(): void {
  putCounted(bathsInAll(), ascii(' bath'), ascii(' baths'));
}

function plannedMs(): i32 {
  let sumMs = 0;
  for (let index = 0; index < eveningPlan.passCount; index++) sumMs += eveningPlan.pass(index).doseMs;
  return sumMs;
}
