/** The patch that the knob is at while a sheet is being read, and what the printer is asked, in rows 2 and 3. */
import { Verdict } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { putOf } from '../rows/figures';
import { beginRow, put, putNumber } from '../rows/row';
import { readStrip } from '../state/state';
import { patchRead, verdict } from './patches';

export function drawPatchRead(question: usize): void {
  beginRow(2);
  switch (verdict()) {
    case Verdict.TooDark:
      put(ascii('All too dark'));
      break;
    case Verdict.TooLight:
      put(ascii('All too light'));
      break;
    case Verdict.Patch:
      put(ascii('Patch '));
      putOf(patchRead() + 1, readStrip.patches);
      break;
    default:
      put(ascii('Between '));
      putNumber(patchRead() + 1);
      put(ascii(' and '));
      putNumber(patchRead() + 2);
  }
  beginRow(3);
  put(question);
}
