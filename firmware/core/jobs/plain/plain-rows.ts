/** A plain exposure on the panel: at rest, at the knob's figures, and while it is given. */
import { RunState } from '../../generated/constants';
import { ascii } from '../../protocol/texts';
import { putSeconds } from '../../rows/figures';
import { drawFilter } from '../../rows/filter';
import { beginRow, put } from '../../rows/row';
import { chosen, situation } from '../../state/state';
import { PlainFigure, plainFilter } from './plain-light';

export function drawPlainTime(): void {
  putSeconds(chosen.plainMs);
  drawFilter(plainFilter());
}

export function drawPlain(): void {
  put(ascii('Plain exposure'));
}

export function drawPlainNote(): void {
  put(ascii('Push knob: a strip'));
}

export function drawPlainFigure(): void {
  drawPlainTime();
  beginRow(2);
  drawPlain();
  beginRow(3);
  put(figureWords());
}

function figureWords(): usize {
  switch (chosen.figure) {
    case PlainFigure.Filter:
      return ascii('Knob: filter');
    case PlainFigure.Stops:
      return ascii('Knob: time in stops');
    default:
      return ascii('Knob: time, seconds');
  }
}

/** In rows 2 and 3. */
export function drawPlainPass(): void {
  beginRow(2);
  drawPlain();
  beginRow(3);
  if (situation.state == RunState.Ready) put(ascii('Knob: time or filter'));
}
