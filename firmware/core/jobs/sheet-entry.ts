/** What the log says of the patches of a sheet. */
import { Sheet, StripSet } from '../generated/codec';

export function describePatches(entry: Sheet, spread: StripSet): void {
  entry.stepStops120 = spread.stepStops120;
  entry.stepMs = spread.stepMs;
  entry.patches = spread.patches;
  entry.cover = spread.cover;
}
