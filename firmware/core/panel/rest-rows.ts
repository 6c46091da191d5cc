/** At rest, and when a sheet or a bath is done: what was chosen, and what is still to be done about it. */
import { DISPLAY_COLUMNS, Job } from '../generated/constants';
import { countsAsPrint, isBaths, isPrint } from '../jobs/kinds';
import { drawJob, drawNote, drawTime } from '../jobs/kinds-shown';
import { isOutTooLong } from '../jobs/paper-out';
import { drawPaperOut } from '../jobs/paper-rows';
import { drawPlainDone } from '../jobs/plain/plain-rows';
import { drawBathsDone } from '../jobs/process/process-rows';
import { drawUnkept } from '../jobs/recipe/print-rows';
import { eveningPlan, leftPlan } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { putSeconds } from '../rows/figures';
import { beginRow, columnsLeft, put, putNumber } from '../rows/row';
import { leftGiven } from '../state/noted';
import { Refusal } from '../state/situation';
import { left, paper, reading, situation } from '../state/state';
import { firstValuesStand } from '../storage/shelf';
import { putPass } from './pass-name';
import { refusalWords } from './refusal-words';

export function drawRest(nowUs: i64): void {
  if (left.isOffered) {
    drawLeftSheet(nowUs);
    return;
  }
  const job = situation.job;
  drawTime(job);
  beginRow(2);
  drawJob(job);
  beginRow(3);
  if (situation.refusal != Refusal.None) put(refusalWords(situation.refusal));
  else if (firstValuesStand) put(ascii('Check settings/baths'));
  else if (isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else if (job != Job.None && reading.unread == job) put(ascii('Push knob: read it'));
  else drawNote(job);
}

/** A sheet that was left, and what it is to get. */
function drawLeftSheet(nowUs: i64): void {
  put(ascii('Sheet '));
  putNumber(paper.sheet);
  put(ascii(' goes on'));
  beginRow(2);
  if (leftGiven.mostMs != 0) put(ascii('was cut in '));
  else put(leftGiven.isRest ? ascii('rest of ') : ascii('with '));
  putPass(left.job, leftGiven.pass, leftPlan.passCount);
  beginRow(3);
  if (isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else put(ascii('Turn: another sheet'));
}

export function drawDone(nowUs: i64): void {
  const job = situation.job;
  if (isBaths(job)) {
    drawBathsDone();
    return;
  }
  putSeconds(plannedMs());
  put(ascii(' in all'));
  beginRow(2);
  if (isPrint(job)) drawUnkept();
  else if (countsAsPrint(job)) drawPlainDone();
  if (columnsLeft() == DISPLAY_COLUMNS) drawJob(job);
  beginRow(3);
  if (isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else drawSheetDone();
}

function drawSheetDone(): void {
  put(ascii('Sheet '));
  putNumber(paper.sheet);
  put(reading.unread == situation.job ? ascii(': turn knob') : ascii(' done'));
}

function plannedMs(): i32 {
  let sumMs = 0;
  for (let index = 0; index < eveningPlan.passCount; index++) sumMs += eveningPlan.pass(index).doseMs;
  return sumMs;
}
