/** A bracket in the log, as it is kept to be read, and what follows from what was seen on it. */
import { Sheet, STRIP_SET_BYTES } from '../../generated/codec';
import { Job, Turnable } from '../../generated/constants';
import { logRecipeChange } from '../../log/entries';
import { activeRecipe, recipeBeginAt, recipeHeadAt, recipePassAt } from '../../recipe/recipe';
import { bracketSpread, chosen, reading, readStrip, situation } from '../../state/state';
import { isBetween, isFound, logPatchRead, patchRead } from '../patches';
import { describePrint } from '../recipe/print-sheet';
import { markRecipeChanged } from '../recipe/recipe-in-use';
import { describePatches } from '../sheet-entry';
import { firstVariantStops120 } from './bracket-plan';

export function describeBracket(entry: Sheet): void {
  describePrint(entry);
  describePatches(entry, bracketSpread);
}

/** It has had all its light. */
export function keepBracketToRead(): void {
  memory.copy(changetype<usize>(readStrip), changetype<usize>(bracketSpread), STRIP_SET_BYTES);
  reading.pass = chosen.bracketPass;
  reading.firstStops120 = firstVariantStops120(activeRecipe, chosen.bracketPass, bracketSpread);
}

/** The offset of the variant that the knob is at, or between two. */
export function variantReadStops120(): i32 {
  const step = i32(readStrip.stepStops120);
  return reading.firstStops120 + step * patchRead() + (isBetween() ? step / 2 : 0);
}

/** The pass is as the variant that was right; where none was, as the nearest, and the next bracket goes about that. */
export function takeBracketReading(nowUs: i64): void {
  const stops120 = variantReadStops120();
  logPatchRead(0, nowUs);
  recipePassAt(activeRecipe, reading.pass).stops120 = i16(stops120);
  markRecipeChanged();
  chosen.baseIsFound = true;
  const name = recipeBeginAt(activeRecipe).name;
  const baseMs = i32(recipeHeadAt(activeRecipe).baseMs);
  logRecipeChange(name, Turnable.Pass, reading.pass + 1, 0, baseMs, stops120, nowUs);
  situation.job = isFound() ? Job.Recipe : Job.Bracket;
}
