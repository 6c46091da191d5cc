/** The sheet of paper under the enlarger: its entries in the log, and the count of sheets. */

import { Job, Outcome } from '../generated/constants';
import { filterOfPass } from '../jobs/filters';
import { countsAsPrint, describeSheet } from '../jobs/kinds';
import { binPaper, takeFreshPaper } from '../jobs/paper-out';
import { isOfRecipe } from '../jobs/recipe/labels';
import { logTakenAnew } from '../jobs/recipe/recipe-in-use';
import {
  logExposureBegun,
  logSheet,
  logSheetEnded,
  logSheetUnused,
  newExposure,
  newSheet,
} from '../log/entries';
import { passNow, restOfPassMs } from '../plan/giving';
import { copyText, isEmptyText } from '../protocol/texts';
import { activeRecipe, recipePassAt } from '../recipe/recipe';
import { filterIn, given, paper, situation } from '../state/state';
import { jobName } from './planned-job';

/** Counts the sheet, once; one that never saw light can be used again and does not count. */
export function endSheet(outcome: Outcome, nowUs: i64): void {
  if (!paper.isOpen || !paper.isLit) return;
  paper.isOpen = false;
  if (outcome != Outcome.Complete) {
    paper.wasted++;
    binPaper();
  } else if (countsAsPrint(situation.job)) paper.prints++;
  else paper.strips++;
  logSheetEnded(paper.sheet, outcome, paper.prints, paper.strips, paper.wasted, nowUs);
}

/** It was begun, and never saw light: it is no sheet, and the next one has its number. */
export function takeUnlitSheetBack(nowUs: i64): void {
  if (!paper.isOpen || paper.isLit) return;
  logSheetUnused(paper.sheet, nowUs);
  paper.isOpen = false;
  paper.isBegun = false;
  paper.sheet--;
}

/** The printer puts another sheet in; it is counted when its first exposure is about to begin. */
export function putNextSheetIn(): void {
  paper.isBegun = false;
  takeFreshPaper();
}

/** Puts into the log that the pass is about to be given, and before the first pass of a sheet, the sheet. */
export function logPass(nowUs: i64): void {
  const isOnPaper = situation.job != Job.Checkup;
  if (isOnPaper && !paper.isBegun) beginSheet(nowUs);
  const exposure = newExposure(nowUs);
  const pass = passNow();
  exposure.kind = pass.kind;
  exposure.plannedMs = restOfPassMs();
  if (isOnPaper) exposure.sheet = u16(paper.sheet);
  copyText(exposure.recipe, jobName());
  exposure.patch = pass.patch;
  copyText(exposure.filter, filterOfPass(given.pass));
  if (isOfRecipe(given.pass)) {
    const from = recipePassAt(activeRecipe, pass.recipePass);
    exposure.pass = u8(pass.recipePass + 1);
    copyText(exposure.label, from.label);
  }
  logExposureBegun();
}

/** The filter of the pass is in: the printer says so, or its light is given. */
export function noteFilter(): void {
  const filter = filterOfPass(given.pass);
  if (!isEmptyText(filter)) copyText(filterIn, filter);
}

function beginSheet(nowUs: i64): void {
  paper.isBegun = true;
  paper.isOpen = true;
  paper.isLit = false;
  paper.sheet = (paper.sheet + 1) & 0xffff;
  logTakenAnew(nowUs);
  const entry = newSheet(nowUs);
  entry.sheet = u16(paper.sheet);
  entry.job = u8(situation.job);
  copyText(entry.recipe, jobName());
  describeSheet(situation.job, entry);
  logSheet();
}
