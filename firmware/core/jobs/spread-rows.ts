/** What strip and bracket have alike on the panel: patches and the step between them, and what to do with the card. */

import { StripSet } from '../generated/codec';
import { Cover, RunState } from '../generated/constants';
import { passNow } from '../plan/giving';
import { ascii } from '../protocol/texts';
import { putSeconds, putStops } from '../rows/figures';
import { beginRow, columnsLeft, put, putNumber } from '../rows/row';
import { chosen, situation } from '../state/state';
import { SpreadFigure } from './spread-figures';

/** "6 patches, 1/2 stop" */
export function drawSpread(spread: StripSet, patches: usize): void {
  putNumber(spread.patches);
  put(patches);
  if (spread.stepStops120 == 0) {
    putSeconds(spread.stepMs);
    return;
  }
  putStops(spread.stepStops120);
  if (columnsLeft() >= 3) put(ascii(' st'));
}

/** The value of the figure that the knob is at, in row 1. */
export function drawSpreadFigure(spread: StripSet): void {
  switch (chosen.figure) {
    case SpreadFigure.Step:
      if (spread.stepStops120 == 0) putSeconds(spread.stepMs);
      else putStops(spread.stepStops120);
      if (spread.stepStops120 != 0) put(ascii(' stop'));
      return;
    case SpreadFigure.Patches:
      putNumber(spread.patches);
      return;
    default:
      put(spread.cover == Cover.Separate ? ascii('Each patch alone') : ascii('Cover step by step'));
  }
}

/** What that figure is. */
export function spreadFigureWords(about: usize): usize {
  switch (chosen.figure) {
    case SpreadFigure.About:
      return about;
    case SpreadFigure.Step:
      return ascii('Knob: step');
    case SpreadFigure.Patches:
      return ascii('Knob: patches');
    default:
      return ascii('Knob: the card');
  }
}

/** What to do with the card, in row 2; row 3 is next. */
export function drawCard(spread: StripSet, bareAll: usize): void {
  beginRow(2);
  if (situation.state != RunState.Ready) put(ascii('Leave card as it is'));
  else if (spread.cover == Cover.Separate) put(ascii('Cover all but this'));
  else put(passNow().patch == 1 ? bareAll : ascii('Cover one more patch'));
  beginRow(3);
}
