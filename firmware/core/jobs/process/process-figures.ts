/**
 * What the knob turns before a bath: which is next, how many sheets, of which paper, how warm the tray is, whether its
 * time goes by the first tone, and that it was mixed fresh.
 */
import { bathAt, bathFrom, bathRow, setCount } from '../../baths/baths';
import { hasPoints, trayC10 } from '../../baths/points';
import { COLDEST_C10, SettingName, WARMEST_C10 } from '../../generated/constants';
import { logMixed } from '../../log/entries';
import { changeSetting, settingValue } from '../../settings/settings';
import { NO_FIGURE } from '../../state/chosen';
import { Unkept } from '../../state/keeping';
import { chosen, keeping, timed } from '../../state/state';
import { goToFirstBath, isFirstBath, toneFactor } from './process';

/** More do not fit a tray. */
const MOST_SHEETS: i32 = 12;

export enum BathFigure {
  Bath = 2, // FIRST_OWN_FIGURE
  Sheets,
  Temperature,
  Paper,
  Mixed,
  FirstTone,
}

/** Where the knob begins to say how warm the tray is, and a click of it: half a degree. */
const USUAL_C10: i32 = 200;
const CLICK_C10: i32 = 5;
const LEAST_FACTOR: i32 = 4;
const MOST_FACTOR: i32 = 8;

/** Which paper it is, and whether it goes by the first tone, is asked at the first bath. */
export function nextBathFigure(): i32 {
  const bath = bathAt(bathRow, timed.bath);
  timed.sheetsBefore = bath.sheets;
  timed.areaBefore = bath.areaCm2;
  const figure = chosen.figure;
  if (figure == NO_FIGURE || figure == BathFigure.FirstTone) return BathFigure.Bath;
  let next = figure + 1;
  if (next == BathFigure.Temperature && !hasPoints(timed.bath)) next = BathFigure.Paper;
  if (next == BathFigure.Paper && !isFirstBath()) next = BathFigure.Mixed;
  return next == BathFigure.FirstTone && !isFirstBath() ? BathFigure.Bath : next;
}

export function bathFigureValue(): i32 {
  switch (chosen.figure) {
    case BathFigure.Bath:
      return timed.bath;
    case BathFigure.Sheets:
      return timed.sheets;
    case BathFigure.Paper:
      return settingValue(SettingName.FibrePaper);
    case BathFigure.FirstTone:
      return toneFactor();
    case BathFigure.Temperature:
      return trayC10();
    default:
      return bathAt(bathRow, timed.bath).sheets;
  }
}

export function setBathFigure(value: i32): void {
  switch (chosen.figure) {
    case BathFigure.Bath:
      timed.bath = value;
      return;
    case BathFigure.Sheets:
      if (value >= 1 && value <= MOST_SHEETS) timed.sheets = value;
      return;
    case BathFigure.Paper:
      changeSetting(SettingName.FibrePaper, value);
      goToFirstBath();
      return;
    case BathFigure.FirstTone:
      changeSetting(SettingName.FirstToneFactor, value);
      return;
    case BathFigure.Temperature:
      changeSetting(SettingName.TrayC10, value);
      return;
    default:
      setCount(bathAt(bathRow, timed.bath), value, value == 0 ? 0 : timed.areaBefore);
  }
}

export function bathFigureAfter(value: i32, clicks: i32): i32 {
  switch (chosen.figure) {
    case BathFigure.Bath:
      return bathFrom(value, clicks);
    case BathFigure.Sheets:
      return value + clicks;
    case BathFigure.Paper:
      return clicks > 0 ? 1 : 0;
    case BathFigure.FirstTone:
      return factorAfter(value, clicks);
    case BathFigure.Temperature:
      return c10After(value, clicks);
    default:
      return clicks > 0 // mixed fresh, or not after all
        ? 0
        : timed.sheetsBefore;
  }
}

/** Below the least there is none. */
function factorAfter(factor: i32, clicks: i32): i32 {
  const place = (factor == 0 ? 0 : factor - LEAST_FACTOR + 1) + clicks;
  return place <= 0 ? 0 : min(MOST_FACTOR, place + LEAST_FACTOR - 1);
}

/** In whole and half degrees, the first click beginning in the middle; below the coldest it is not measured. */
function c10After(c10: i32, clicks: i32): i32 {
  if (c10 == 0) return clicks > 0 ? USUAL_C10 : 0;
  const onGrid = clicks > 0 ? c10 / CLICK_C10 : (c10 + CLICK_C10 - 1) / CLICK_C10;
  const after = (onGrid + clicks) * CLICK_C10;
  return after < COLDEST_C10 ? 0 : min(WARMEST_C10, after);
}

function isSettingFigure(): bool {
  switch (chosen.figure) {
    case BathFigure.Temperature:
    case BathFigure.Paper:
    case BathFigure.FirstTone:
      return true;
    default:
      return false;
  }
}

export function logBathFigure(nowUs: i64): void {
  if (isSettingFigure()) keeping.waiting |= Unkept.Settings;
  if (chosen.figure != BathFigure.Mixed || bathAt(bathRow, timed.bath).sheets != 0) return;
  logMixed(timed.bath, nowUs);
  keeping.waiting |= Unkept.Baths;
}
