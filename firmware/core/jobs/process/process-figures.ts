/** What the knob turns before a bath: which is next, how many sheets, of which paper, and that it was mixed fresh. */
import { bathAt, bathFrom, bathRow, setCount } from '../../baths/baths';
import { SettingName } from '../../generated/constants';
import { logMixed } from '../../log/entries';
import { changeSetting, settingValue } from '../../settings/settings';
import { NO_FIGURE } from '../../state/chosen';
import { Unkept } from '../../state/keeping';
import { chosen, keeping, timed } from '../../state/state';
import { goToFirstBath, isFirstBath } from './process';

/** More do not fit a tray. */
const MOST_SHEETS: i32 = 12;

export enum BathFigure {
  Bath = 2, // FIRST_OWN_FIGURE
  Sheets,
  Paper,
  Mixed,
}

/** Which paper it is, is asked at the first bath. */
export function nextBathFigure(): i32 {
  const bath = bathAt(bathRow, timed.bath);
  timed.sheetsBefore = bath.sheets;
  timed.areaBefore = bath.areaCm2;
  const figure = chosen.figure;
  if (figure == NO_FIGURE || figure == BathFigure.Mixed) return BathFigure.Bath;
  return figure == BathFigure.Sheets && !isFirstBath() ? BathFigure.Mixed : figure + 1;
}

export function bathFigureValue(): i32 {
  switch (chosen.figure) {
    case BathFigure.Bath:
      return timed.bath;
    case BathFigure.Sheets:
      return timed.sheets;
    case BathFigure.Paper:
      return settingValue(SettingName.FibrePaper);
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
    default:
      return clicks > 0 ? 0 : timed.sheetsBefore;
  }
}

export function logBathFigure(nowUs: i64): void {
  if (chosen.figure == BathFigure.Paper) keeping.waiting |= Unkept.Settings;
  if (chosen.figure != BathFigure.Mixed || bathAt(bathRow, timed.bath).sheets != 0) return;
  logMixed(timed.bath, nowUs);
  keeping.waiting |= Unkept.Baths;
}
