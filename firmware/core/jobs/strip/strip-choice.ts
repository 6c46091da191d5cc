/** The strip that is chosen, and what the knob turns of it. */
import { STRIP_SET_BYTES, StripSet } from '../../generated/codec';
import { Cover } from '../../generated/constants';
import { timeAfterMs } from '../../knob/turned-time';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { chosen, chosenStrip } from '../../state/state';
import { SpreadFigure, setSpreadFigure, spreadFigureAfter, spreadFigureValue } from '../spread-figures';
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

export function stripFigureValue(): i32 {
  return chosen.figure == SpreadFigure.About ? i32(chosenStrip.firstMs) : spreadFigureValue(chosenStrip);
}

export function setStripFigure(value: i32): void {
  if (chosen.figure == SpreadFigure.About) chosenStrip.firstMs = value;
  else setSpreadFigure(chosenStrip, value);
}

export function stripFigureAfter(value: i32, clicks: i32): i32 {
  return chosen.figure == SpreadFigure.About ? timeAfterMs(value, clicks) : spreadFigureAfter(value, clicks);
}
