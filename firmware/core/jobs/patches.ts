/**
 * Patches that are looked at on paper: the knob goes from 'all too dark' (0) along them, lightest first, each and then
 * between it and the next, to 'all too light'.
 */
import { Verdict } from '../generated/constants';
import { logStripReading } from '../log/entries';
import { reading, readStrip } from '../state/state';

/** All too light. */
export function lastPatchChoice(): i32 {
  return 2 * i32(readStrip.patches);
}

export function verdict(): Verdict {
  if (reading.choice == 0) return Verdict.TooDark;
  if (reading.choice == lastPatchChoice()) return Verdict.TooLight;
  return (reading.choice & 1) == 1 ? Verdict.Patch : Verdict.Between;
}

export function isBetween(): bool {
  return verdict() == Verdict.Between;
}

/** A patch is right, or between two. */
export function isFound(): bool {
  return reading.choice != 0 && reading.choice != lastPatchChoice();
}

/** The patch, from 0, or the lighter one of the two; at the ends the patch there. */
export function patchRead(): i32 {
  return max(0, min(i32(readStrip.patches) - 1, (reading.choice - 1) >> 1));
}

/** What was seen, and the dose that follows from it where one does. */
export function logPatchRead(doseMs: i32, nowUs: i64): void {
  logStripReading(reading.sheet, verdict(), isFound() ? patchRead() + 1 : 0, doseMs, nowUs);
}
