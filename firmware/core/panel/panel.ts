/**
 * What the panel shows in each state: row 0 says in words what the pedal does next, row 1 the seconds, rows 2
 * and 3 where the evening stands. Written for wet hands at arm's length in red light: few words, always in the
 * same places.
 */

import { pieceNow } from '../evening/announce';
import { chosenStrip, recipeChanged } from '../evening/job';
import { keepingRecipe } from '../evening/keep';
import { passFilter, pieceLabel } from '../evening/labels';
import { Lit, lit, litSinceUs } from '../evening/lamp-control';
import { passIndex, pieceEndsUs } from '../evening/pass';
import { stripIsUnread } from '../evening/reading';
import { sheetNumber } from '../evening/sheet';
import { Refusal, situation } from '../evening/situation';
import { Figure, figure } from '../evening/turning';
import { Cover, DISPLAY_COLUMNS, ExposureKind, Job, RunState, SettingName } from '../generated/constants';
import { eveningPlan, Segment, SegmentKind } from '../plan/plan';
import { patchMs } from '../plan/strip-plan';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeBeginAt, recipeHeadAt } from '../recipe/recipe';
import { settingValue } from '../settings/settings';
import { drawFigure } from './figure-rows';
import { putCountdown, putSeconds, putStops } from './figures';
import { promise } from './promise';
import { drawReading } from './reading-rows';
import { refusalWords } from './refusal-words';
import { alignRight, beginRow, columnsLeft, put, putByte, putNumber, putText, showRows } from './row';

export function drawPanel(nowUs: i64): void {
  beginRow(0);
  put(promise());
  beginRow(1);
  beginRow(2);
  beginRow(3);
  drawState(nowUs);
  showRows();
}

function drawState(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      drawRest();
      return;
    case RunState.Focus:
      drawFocus(nowUs);
      return;
    case RunState.LensCheck:
      drawLensCheck();
      return;
    case RunState.Choosing:
      drawReading();
      return;
    case RunState.Done:
      drawDone();
      return;
    case RunState.Stuck:
      drawStuck();
      return;
    default:
      drawPass(nowUs);
      return;
  }
}

function drawRest(): void {
  beginRow(1);
  if (situation.job == Job.Strip) {
    putSeconds(chosenStrip.firstMs);
    put(ascii(' first'));
  } else if (situation.job == Job.Recipe) {
    putSeconds(recipeHeadAt(activeRecipe).baseMs);
    put(ascii(' base'));
  }
  beginRow(2);
  drawJob();
  beginRow(3);
  if (situation.refusal != Refusal.None) put(refusalWords(situation.refusal));
  else if (situation.job == Job.Strip && stripIsUnread) put(ascii('Push knob: read it'));
  else drawUnkept();
}

/** "6 patches, 1/2 stop", or the recipe's name. */
export function drawJob(): void {
  if (situation.job == Job.Recipe) {
    putText(recipeBeginAt(activeRecipe).name);
    return;
  }
  if (situation.job != Job.Strip) {
    put(ascii('Nothing chosen'));
    return;
  }
  putNumber(chosenStrip.patches);
  put(ascii(' patches, '));
  if (chosenStrip.stepStops120 == 0) {
    putSeconds(chosenStrip.stepMs);
    return;
  }
  putStops(chosenStrip.stepStops120);
  if (columnsLeft() >= 3) put(ascii(' st'));
}

function drawUnkept(): void {
  if (situation.job != Job.Recipe) return;
  if (keepingRecipe) put(ascii('Keeping it ...'));
  else if (recipeChanged) put(ascii('Hold knob: keep it'));
}

function drawFocus(nowUs: i64): void {
  const limitUs = <i64>settingValue(SettingName.FocusLimitS) * 1_000_000;
  beginRow(1);
  putCountdown(lit == Lit.Focus ? limitUs - (nowUs - litSinceUs) : limitUs);
  put(ascii(' left'));
  beginRow(2);
  put(ascii('Compose and focus,'));
  beginRow(3);
  put(ascii('lens wide open'));
}

function drawLensCheck(): void {
  beginRow(1);
  put(ascii('Stop the lens down'));
  beginRow(2);
  const aperture10 = i32(recipeHeadAt(activeRecipe).aperture10);
  if (situation.job == Job.Recipe && aperture10 != 0) {
    put(ascii('to f/'));
    putNumber(aperture10 / 10);
    if (aperture10 % 10 != 0) {
      putByte(0x2e);
      putNumber(aperture10 % 10);
    }
  }
  beginRow(3);
  put(ascii('before any paper'));
}

function drawStuck(): void {
  beginRow(1);
  put(ascii('It is down too long'));
  beginRow(2);
  put(ascii('or stuck.'));
  beginRow(3);
  put(ascii('The lamp is off.'));
}

function drawDone(): void {
  beginRow(1);
  putSeconds(plannedMs());
  put(ascii(' in all'));
  beginRow(2);
  drawUnkept();
  if (columnsLeft() == DISPLAY_COLUMNS) drawJob();
  beginRow(3);
  put(ascii('Sheet '));
  putNumber(sheetNumber);
  put(situation.job == Job.Strip ? ascii(': turn knob') : ascii(' done'));
}

function plannedMs(): i32 {
  let sumMs = 0;
  for (let index = 0; index < eveningPlan.passCount; index++) sumMs += eveningPlan.pass(index).doseMs;
  return sumMs;
}

function drawPass(nowUs: i64): void {
  if (figure != Figure.None) {
    drawFigure();
    return;
  }
  const piece = pieceNow(nowUs);
  const segment = eveningPlan.segment(piece);
  beginRow(1);
  if (lit == Lit.Paper) putCountdown(litSinceUs + pieceEndsUs - nowUs);
  else putSeconds(i32((segment.restUs + 500) / 1000));
  drawFilter();
  if (eveningPlan.pass(passIndex).kind == ExposureKind.Strip) drawPatch();
  else drawPiece(piece, segment);
}

/** At the right edge, with the word where there is room for it. */
function drawFilter(): void {
  const filter = passFilter(passIndex);
  if (load<u8>(filter) == 0) return;
  putByte(0x20);
  const from = columnsLeft();
  put(ascii('filter '));
  putText(filter);
  alignRight(from);
}

function drawPatch(): void {
  beginRow(2);
  if (chosenStrip.cover == Cover.Separate) put(ascii('Bare this patch only'));
  else if (passIndex == 0) put(ascii('Bare the whole strip'));
  else put(ascii('Cover one more patch'));
  beginRow(3);
  put(ascii('Patch '));
  drawCount(passIndex + 1, eveningPlan.passCount);
  put(ascii(' '));
  putSeconds(patchMs(chosenStrip.firstMs, chosenStrip.stepStops120, chosenStrip.stepMs, passIndex));
}

function drawPiece(piece: i32, segment: Segment): void {
  beginRow(2);
  putText(pieceLabel(piece));
  beginRow(3);
  if (segment.kind == SegmentKind.Dodge) {
    put(ascii('Dodge '));
    drawCount(segment.dodge + 1, eveningPlan.pass(passIndex).dodgeCount);
    put(ascii(' pass '));
    putNumber(passIndex + 1);
    return;
  }
  put(eveningPlan.pass(passIndex).kind == ExposureKind.Burn ? ascii('Burn, pass ') : ascii('Base, pass '));
  drawCount(passIndex + 1, eveningPlan.passCount);
}

function drawCount(number: i32, count: i32): void {
  putNumber(number);
  putByte(0x2f);
  putNumber(count);
}
