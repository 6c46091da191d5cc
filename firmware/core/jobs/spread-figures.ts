/** What strip and bracket have alike for the knob: the step between patches, how many there are, and the card. */
import { StripSet } from '../generated/codec';
import { Cover } from '../generated/constants';
import { chosen } from '../state/state';

export enum SpreadFigure {
  /** What the sheet is about, which strip and bracket have each their own. */
  About = 2, // FIRST_OWN_FIGURE
  Step,
  Patches,
  Cover,
  /** Of a strip alone: what it is about in round seconds, and its filter. */
  AboutSeconds,
  Filter,
}

/** Steps that the knob offers, in 1/120 stop: 1/12, 1/6, 1/4, 1/3, 1/2, 1. */
const STEPS: usize = memory.data<u8>([10, 20, 30, 40, 60, 120]);
const STEP_COUNT: i32 = 6;

/** From what the sheet is about to step, patches and card, and round again. */
export function nextSpreadFigure(): i32 {
  const figure = chosen.figure;
  return figure >= SpreadFigure.About && figure < SpreadFigure.Cover ? figure + 1 : SpreadFigure.About;
}

export function spreadFigureValue(spread: StripSet): i32 {
  switch (chosen.figure) {
    case SpreadFigure.Step:
      return spread.stepStops120;
    case SpreadFigure.Patches:
      return spread.patches;
    default:
      return spread.cover;
  }
}

export function setSpreadFigure(spread: StripSet, value: i32): void {
  switch (chosen.figure) {
    case SpreadFigure.Step:
      spread.stepStops120 = u16(value);
      return;
    case SpreadFigure.Patches:
      spread.patches = u8(value);
      return;
    default:
      spread.cover = u8(value);
  }
}

export function spreadFigureAfter(value: i32, clicks: i32): i32 {
  switch (chosen.figure) {
    case SpreadFigure.Step:
      return stepAfter(value, clicks);
    case SpreadFigure.Patches:
      return max(0, value + clicks);
    default:
      return value == Cover.Separate ? Cover.Cumulative : Cover.Separate;
  }
}

/** The step that is `clicks` further in the row of those offered. */
function stepAfter(stops120: i32, clicks: i32): i32 {
  let place = 0;
  while (place < STEP_COUNT && i32(load<u8>(STEPS + place)) < stops120) place++;
  return load<u8>(STEPS + max(0, min(STEP_COUNT - 1, place + clicks)));
}
