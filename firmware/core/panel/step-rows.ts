/** A bath, or the safelight's minutes, before and while the board times it. */
import { bathAt, bathRow, bathSeconds, isSpent } from '../baths/baths';
import { Figure, figure } from '../evening/figure';
import { isOutTooLong } from '../evening/paper-out';
import { bathIndex, bathNumber, bathsInAll, liftSeconds, sheetsInBaths } from '../evening/processing';
import { situation } from '../evening/situation';
import { bandsCovered, elapsedSeconds, nextMoveSeconds, stepSeconds } from '../evening/steps';
import { Job, RunState, SettingName } from '../generated/constants';
import { bandMinutes, SAFELIGHT_BANDS } from '../plan/safelight-plan';
import { ascii } from '../protocol/texts';
import { settingValue } from '../settings/settings';
import { putCounted, putMinutes, putOf } from './figures';
import { drawPaperOut } from './rest-rows';
import { beginRow, put, putByte, putNumber, putText } from './row';

export function drawStep(nowUs: i64): void {
  beginRow(1);
  if (situation.job != Job.Process) drawSafelight();
  else if (figure != Figure.None) drawFigure();
  else drawBath(nowUs);
}

function drawBath(nowUs: i64): void {
  const isTiming = situation.state == RunState.Timing;
  const drains = isTiming && elapsedSeconds >= liftSeconds();
  const until = drains || !isTiming ? bathSeconds(bathIndex) : liftSeconds();
  putMinutes(isTiming ? until - elapsedSeconds : until);
  if (drains) put(ascii(' lift, drain'));
  beginRow(2);
  putText(bathAt(bathRow, bathIndex).label);
  beginRow(3);
  if (!isTiming && isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else if (!isTiming && isSpent(bathIndex, sheetsInBaths)) put(ascii('Used up: mix it anew'));
  else drawWhich();
}

function drawWhich(): void {
  put(ascii('Bath '));
  putOf(bathNumber(), bathsInAll());
  put(ascii(', '));
  putSheets(sheetsInBaths);
}

function putSheets(sheets: i32): void {
  putCounted(sheets, ascii(' sheet'), ascii(' sheets'));
}

/** What the knob is at before a bath. */
function drawFigure(): void {
  drawFigureValue();
  beginRow(2);
  putText(bathAt(bathRow, bathIndex).label);
  beginRow(3);
  switch (figure) {
    case Figure.Bath:
      put(ascii('Knob: bath '));
      putOf(bathNumber(), bathsInAll());
      return;
    case Figure.Sheets:
      put(ascii('Knob: how many'));
      return;
    case Figure.Paper:
      put(ascii('Knob: paper'));
      return;
    default:
      put(ascii('Knob: mixed anew'));
  }
}

function drawFigureValue(): void {
  switch (figure) {
    case Figure.Bath:
      putMinutes(bathSeconds(bathIndex));
      return;
    case Figure.Sheets:
      putSheets(sheetsInBaths);
      return;
    case Figure.Paper:
      drawPaper();
      return;
    default:
      putSheets(bathAt(bathRow, bathIndex).sheets);
      put(ascii(' so far'));
  }
}

function drawPaper(): void {
  put(settingValue(SettingName.FibrePaper) != 0 ? ascii('Fibre') : ascii('Resin-coated'));
}

/** Bands are counted as the card covers them. */
function drawSafelight(): void {
  const isTiming = situation.state == RunState.Timing;
  putMinutes(isTiming ? nextMoveSeconds() : stepSeconds());
  put(isTiming ? ascii(' to next move') : ascii(' of safelight'));
  beginRow(2);
  const covered = isTiming ? bandsCovered() : 1;
  put(covered == 1 ? ascii('Cover band 1') : ascii('Cover bands 1 to '));
  if (covered != 1) putNumber(covered);
  beginRow(3);
  put(ascii('Bands: '));
  for (let band = 0; band < SAFELIGHT_BANDS; band++) {
    putNumber(bandMinutes(band));
    putByte(0x20);
  }
  put(ascii('min'));
}
