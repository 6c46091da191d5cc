/** The baths on the panel: at rest, before and while the board times one, at the knob's figures, and when all is done. */
import { bathAfter, bathAt, bathRow, bathSeconds, isSpent } from '../../baths/baths';
import { RunState, SettingName } from '../../generated/constants';
import { ascii } from '../../protocol/texts';
import { putCounted, putMinutes, putOf } from '../../rows/figures';
import { beginRow, put, putText } from '../../rows/row';
import { settingValue } from '../../settings/settings';
import { NO_FIGURE } from '../../state/chosen';
import { chosen, situation, timed } from '../../state/state';
import { isOutTooLong } from '../paper-out';
import { drawPaperOut } from '../paper-rows';
import { bathNumber, bathsInAll, liftSeconds, secondsInBath } from './process';
import { BathFigure } from './process-figures';

export function drawFirstBathTime(): void {
  if (bathAfter(-1) >= 0) putMinutes(bathSeconds(bathAfter(-1)));
}

export function drawFirstBath(): void {
  if (bathAfter(-1) >= 0) putText(bathAt(bathRow, bathAfter(-1)).label);
}

export function drawBathCount(): void {
  putCounted(bathsInAll(), ascii(' bath'), ascii(' baths'));
}

export function drawBathsDone(): void {
  putCounted(timed.sheets, ascii(' sheet through'), ascii(' sheets through'));
  beginRow(2);
  drawBathCount();
}

export function drawBath(nowUs: i64): void {
  if (chosen.figure != NO_FIGURE) {
    drawBathFigure();
    return;
  }
  drawBathTime();
  beginRow(2);
  drawBathLabel();
  beginRow(3);
  const isReady = situation.state == RunState.StepReady;
  if (isReady && isOutTooLong(nowUs)) drawPaperOut(nowUs);
  else if (isReady && isSpent(timed.bath, timed.sheets)) put(ascii('Used up: mix fresh'));
  else drawWhich();
}

function drawBathTime(): void {
  const elapsed = situation.state == RunState.Timing ? timed.elapsedSeconds : 0;
  const drains = situation.state == RunState.Timing && elapsed >= liftSeconds();
  const isWhole = drains || situation.state != RunState.Timing;
  putMinutes((isWhole ? secondsInBath() : liftSeconds()) - elapsed);
  if (drains) put(ascii(' lift, drain'));
}

function drawBathLabel(): void {
  putText(bathAt(bathRow, timed.bath).label);
}

function drawWhich(): void {
  put(ascii('Bath '));
  putOf(bathNumber(), bathsInAll());
  put(ascii(', '));
  putSheets(timed.sheets);
}

function putSheets(sheets: i32): void {
  putCounted(sheets, ascii(' sheet'), ascii(' sheets'));
}

function drawBathFigure(): void {
  drawBathFigureValue();
  beginRow(2);
  drawBathLabel();
  beginRow(3);
  switch (chosen.figure) {
    case BathFigure.Bath:
      put(ascii('Knob: bath '));
      putOf(bathNumber(), bathsInAll());
      return;
    case BathFigure.Sheets:
      put(ascii('Knob: how many'));
      return;
    case BathFigure.Paper:
      put(ascii('Knob: paper'));
      return;
    default:
      put(ascii('Knob: mixed fresh'));
  }
}

function drawBathFigureValue(): void {
  switch (chosen.figure) {
    case BathFigure.Bath:
      putMinutes(secondsInBath());
      return;
    case BathFigure.Sheets:
      putSheets(timed.sheets);
      return;
    case BathFigure.Paper:
      put(settingValue(SettingName.FibrePaper) != 0 ? ascii('Fibre') : ascii('Resin-coated'));
      return;
    default:
      putSheets(bathAt(bathRow, timed.bath).sheets);
      put(ascii(' so far'));
  }
}
