/** A strip in the log, and as it is kept to be read. */
import { Sheet, STRIP_SET_BYTES } from '../../generated/codec';
import { chosen, chosenStrip, reading, readStrip } from '../../state/state';
import { describePatches } from '../sheet-entry';

export function describeStrip(entry: Sheet): void {
  entry.baseMs = chosenStrip.firstMs;
  describePatches(entry, chosenStrip);
}

/** It has had all its light. */
export function keepStripToRead(): void {
  memory.copy(changetype<usize>(readStrip), changetype<usize>(chosenStrip), STRIP_SET_BYTES);
  reading.isNewNegative = chosen.isNewNegative;
}
