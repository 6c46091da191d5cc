/** A plain exposure: one light of a time and a filter that the knob says, without any recipe. */
import { COLD, minimumDoseMs } from '../../arithmetic/lamp';
import { Sheet } from '../../generated/codec';
import { ExposureKind } from '../../generated/constants';
import { filterPlaceAfter, offeredFilter } from '../../knob/filter-choice';
import { timeInSecondsAfterMs, timeInStopsAfterMs } from '../../knob/turned-time';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { eveningPlan, PieceKind, PlanCode, STOPS_FIRST } from '../../plan/plan';
import { compensatePulse } from '../../plan/pulses';
import { chosen } from '../../state/state';

export enum PlainFigure {
  Seconds = 2, // FIRST_OWN_FIGURE
  Stops,
  Filter,
}
const FIRST_MS: i32 = 10_000;

/** After power-up. */
export function chooseFirstPlain(): void {
  chosen.plainMs = FIRST_MS;
}

/** A text. */
export function plainFilter(): usize {
  return offeredFilter(chosen.plainFilter);
}

export function planPlain(): PlanCode {
  setLampFromSettings();
  const plan = eveningPlan;
  const doseMs = chosen.plainMs;
  plan.begin(true);
  plan.addPass(ExposureKind.Plain, doseMs);
  if (doseMs < minimumDoseMs()) return plan.refuse(PlanCode.BelowLamp, 0, -1, doseMs, minimumDoseMs());
  plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs);
  compensatePulse(plan, 0, COLD);
  return plan.code;
}

/** The time in seconds, the same in stops, the filter, and round again. */
export function nextPlainFigure(): i32 {
  const figure = chosen.figure;
  return figure >= PlainFigure.Seconds && figure < PlainFigure.Filter ? figure + 1 : PlainFigure.Seconds;
}

export function plainFigureValue(): i32 {
  return chosen.figure == PlainFigure.Filter ? chosen.plainFilter : chosen.plainMs;
}

export function setPlainFigure(value: i32): void {
  if (chosen.figure == PlainFigure.Filter) chosen.plainFilter = value;
  else chosen.plainMs = value;
}

export function plainFigureAfter(value: i32, clicks: i32): i32 {
  switch (chosen.figure) {
    case PlainFigure.Filter:
      return filterPlaceAfter(value, clicks);
    case PlainFigure.Stops:
      return timeInStopsAfterMs(value, clicks);
    default:
      return timeInSecondsAfterMs(value, clicks);
  }
}

export function describePlain(entry: Sheet): void {
  entry.baseMs = chosen.plainMs;
}
