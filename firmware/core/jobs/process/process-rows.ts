/** The baths on the panel: at rest, before and while the board times one, at the knob's figures, and when all is done. */
import { bathSeconds } from '../../baths/bath-time';
import { bathAfter, bathAt, bathRow, isSpent } from '../../baths/baths';
import { coldestC10, isByTemperature, isOutsidePoints, trayC10, warmestC10 } from '../../baths/points';
import { RunState, SettingName } from '../../generated/constants';
import { ascii } from '../../protocol/texts';
import { putCounted, putDegrees, putMinutes, putOf, putTenths } from '../../rows/figures';
import { beginRow, put, putNumber, putText } from '../../rows/row';
import { settingValue } from '../../settings/settings';
import { NO_FIGURE } from '../../state/chosen';
import { chosen, situation, timed } from '../../state/state';
import { isOutTooLong } from '../paper-out';
import { drawPaperOut } from '../paper-rows';
import { bathNumber, bathsInAll, liftSeconds, secondsInBath, toneFactor } from './process';
import { BathFigure } from './process-figures';

const USED_UP: usize = ascii('Used up: mix fresh');

export function drawFirstBathTime(): void {
  if (bathAfter(-1) >= 0) putMinutes(bathSeconds(bathAfter(-1)));
}

export function drawFirstBath(): void {
  if (bathAfter(-1) >= 0) putText(bathAt(bathRow, bathAfter(-1)).label);
}

export function drawBathCount(): void {
  putCounted(bathsInAll(), ascii(' bath'), ascii(' baths'));
}

/** What is worth knowing before the paper is at the first bath; where there is none, something else is said. */
export function drawBathsNote(): void {
  if (isSpent(bathAfter(-1), 1)) put(USED_UP);
  else drawBathCount();
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
  if (isReadyLate(nowUs) && isBathSpent()) drawSpentBeside();
  else if (situation.state == RunState.StepReady) drawTemperatureBeside();
  beginRow(2);
  drawBathLabel();
  beginRow(3);
  if (isReadyLate(nowUs)) drawPaperOut(nowUs);
  else if (situation.state == RunState.StepReady && isOutsidePoints(timed.bath)) drawRange();
  else if (situation.state == RunState.StepReady && isBathSpent()) put(USED_UP);
  else drawWhich();
}

/** Paper that has been out too long waits for the bath. */
function isReadyLate(nowUs: i64): bool {
  return situation.state == RunState.StepReady && isOutTooLong(nowUs);
}

function isBathSpent(): bool {
  return isSpent(timed.bath, timed.sheets);
}

/** Behind the figure of row 1, where row 3 says something else. */
function drawSpentBeside(): void {
  if (isBathSpent()) put(ascii(', used up'));
}

/** Which temperature the time is for: "1:12 at 22.5 C". */
function drawTemperatureBeside(): void {
  if (!isByTemperature(timed.bath) || isOutsidePoints(timed.bath)) return;
  put(ascii(' at '));
  putDegrees(trayC10());
}

/** "From 18.0 to 24.0 C" */
function drawRange(): void {
  put(ascii('From '));
  putTenths(coldestC10(timed.bath));
  put(ascii(' to '));
  putDegrees(warmestC10(timed.bath));
}

function drawBathTime(): void {
  if (situation.state == RunState.StepReady && isOutsidePoints(timed.bath)) {
    putDegrees(trayC10());
    put(ascii(': no time'));
    return;
  }
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
  if (chosen.figure == BathFigure.Bath || chosen.figure == BathFigure.Sheets) drawSpentBeside();
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
    case BathFigure.FirstTone:
      put(isBathSpent() ? ascii('Used up. Knob: tone') : ascii('Knob: by first tone'));
      return;
    case BathFigure.Temperature:
      if (isOutsidePoints(timed.bath)) drawRange();
      else put(isBathSpent() ? ascii('Used up. Knob: temp.') : ascii('Knob: temperature'));
      return;
    case BathFigure.Paper:
      put(isBathSpent() ? ascii('Used up. Knob: paper') : ascii('Knob: paper'));
      return;
    default:
      put(isBathSpent() ? ascii('Used up. Knob: fresh') : ascii('Knob: mixed fresh'));
  }
}

function drawBathFigureValue(): void {
  switch (chosen.figure) {
    case BathFigure.Bath:
      drawBathTime();
      return;
    case BathFigure.FirstTone:
      drawFirstTone();
      return;
    case BathFigure.Temperature:
      drawTemperature();
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

/** How many times the time to the first tone; "By the clock" where it does not go by that. */
function drawFirstTone(): void {
  if (toneFactor() == 0) {
    put(ascii('By the clock'));
    return;
  }
  putNumber(toneFactor());
  put(ascii(' x first tone'));
}

/** "22.5 C: 1:12" */
function drawTemperature(): void {
  if (trayC10() == 0) {
    put(ascii('Not measured'));
    return;
  }
  if (!isOutsidePoints(timed.bath)) {
    putDegrees(trayC10());
    put(ascii(': '));
  }
  drawBathTime();
}
