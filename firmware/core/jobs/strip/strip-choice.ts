/** The strip that is chosen, and what the knob turns of it. */
import { STRIP_SET_BYTES, StripSet } from '../../generated/codec';
import { Cover } from '../../generated/constants';
import { filterPlaceAfter, offeredFilter, placeOfFilter } from '../../knob/filter-choice';
import { timeAfterMs, timeInSecondsAfterMs } from '../../knob/turned-time';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { copyText } from '../../protocol/texts';
import { chosen, chosenStrip } from '../../state/state';
import {
  nextSpreadFigure,
  SpreadFigure,
  setSpreadFigure,
  spreadFigureAfter,
  spreadFigureValue,
} from '../spread-figures';
import { planStrip } from './strip-plan';
import { FIRST_STRIP_MS, FIRST_STRIP_PATCHES, FIRST_STRIP_STOPS120 } from './strip-proposal';

/** A first strip by whole stops over a range that meets almost any negative: 2 to 64 s. */
export function chooseFirstStrip(): void {
  chosenStrip.firstMs = FIRST_STRIP_MS;
  chosenStrip.stepStops120 = u16(FIRST_STRIP_STOPS120);
  chosenStrip.patches = u8(FIRST_STRIP_PATCHES);
  chosenStrip.cover = u8(Cover.Cumulative);
}

export function chooseStrip(from: StripSet): void {
  memory.copy(changetype<usize>(chosenStrip), changetype<usize>(from), STRIP_SET_BYTES);
}

export function planChosenStrip(): PlanCode {
  setLampFromSettings();
  const strip = chosenStrip;
  const separate = strip.cover == Cover.Separate;
  return planStrip(eveningPlan, strip.firstMs, strip.stepStops120, strip.stepMs, strip.patches, separate);
}

/** The first time, the same in round seconds, then as a bracket's, the filter, and round again. */
export function nextStripFigure(): i32 {
  switch (chosen.figure) {
    case SpreadFigure.About:
      return SpreadFigure.AboutSeconds;
    case SpreadFigure.AboutSeconds:
      return SpreadFigure.Step;
    case SpreadFigure.Cover:
      return SpreadFigure.Filter;
    default:
      return nextSpreadFigure();
  }
}

function isFirstTime(): bool {
  return chosen.figure == SpreadFigure.About || chosen.figure == SpreadFigure.AboutSeconds;
}

export function stripFigureValue(): i32 {
  if (isFirstTime()) return i32(chosenStrip.firstMs);
  if (chosen.figure == SpreadFigure.Filter) return placeOfFilter(chosenStrip.filter);
  return spreadFigureValue(chosenStrip);
}

export function setStripFigure(value: i32): void {
  if (isFirstTime()) chosenStrip.firstMs = value;
  else if (chosen.figure == SpreadFigure.Filter) copyText(chosenStrip.filter, offeredFilter(value));
  else setSpreadFigure(chosenStrip, value);
}

export function stripFigureAfter(value: i32, clicks: i32): i32 {
  switch (chosen.figure) {
    case SpreadFigure.About:
      return timeAfterMs(value, clicks);
    case SpreadFigure.AboutSeconds:
      return timeInSecondsAfterMs(value, clicks);
    case SpreadFigure.Filter:
      return filterPlaceAfter(value, clicks);
    default:
      return spreadFigureAfter(value, clicks);
  }
}
