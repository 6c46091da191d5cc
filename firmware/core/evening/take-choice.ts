/** What follows from what was seen on paper: the base, the pass, the lamp's lag, the safelight's minutes; or another sheet. */
import { Finding, Job, SettingName, Turnable, Verdict } from '../generated/constants';
import { logRecipeChange, logStripReading, logTestResult } from '../log/entries';
import { LAMP_TEST_PATCHES } from '../plan/lamp-test-plan';
import {
  proposedFirstMs,
  proposedPatches,
  proposedStops120,
  proposeStrip,
  stopsToClose,
} from '../plan/strip-proposal';
import { activeRecipe, recipeBeginAt, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { changeSetting } from '../settings/settings';
import { chosenStrip, hasRecipe, plainRecipe, recipeIsChanged } from './job';
import {
  chosenLagMs,
  chosenMinutes,
  chosenMs,
  chosenPatch,
  chosenStops120,
  chosenVerdict,
  givenPass,
  givenSheet,
  givenStrip,
  isFound,
  isRead,
  unreadJob,
} from './reading';
import { situation } from './situation';
import { testLagMs, testLagsFrom } from './tests-on-paper';
import { Unkept, willBeKept } from './unkept';

/** Takes what is shown. True when the lens should be closed as well. */
export function takeChoice(nowUs: i64): bool {
  switch (unreadJob) {
    case Job.Strip:
      return takeStripChoice(nowUs);
    case Job.Bracket:
      takeVersion(nowUs);
      break;
    case Job.LampTest:
      takeLag(nowUs);
      break;
    case Job.SafelightTest:
      takeMinutes(nowUs);
      break;
  }
  isRead(0);
  return false;
}

/** The base, the next strip, or both. */
function takeStripChoice(nowUs: i64): bool {
  const verdict = chosenVerdict();
  const found = isFound();
  const bestMs = found ? chosenMs() : 0;
  seen(bestMs, nowUs);
  if (found) takeBase(bestMs);
  const strip = givenStrip;
  if (proposeStrip(verdict, bestMs, strip.firstMs, strip.stepStops120, strip.stepMs, strip.patches))
    takeProposal();
  else situation.job = Job.Recipe;
  // A sheet that is black all over most often means a lens left open.
  if (verdict == Verdict.TooDark) situation.lensConfirmed = false;
  isRead(found ? stopsToClose(bestMs) : 0);
  return found && stopsToClose(bestMs) != 0;
}

function seen(doseMs: i32, nowUs: i64): void {
  logStripReading(givenSheet, chosenVerdict(), isFound() ? chosenPatch() + 1 : 0, doseMs, nowUs);
}

/** It becomes the base of the recipe in use, or of a plain one of a single pass. */
function takeBase(baseMs: i32): void {
  if (!hasRecipe()) plainRecipe();
  recipeHeadAt(activeRecipe).baseMs = baseMs;
  recipeIsChanged(true);
}

function takeProposal(): void {
  situation.job = Job.Strip;
  chosenStrip.firstMs = proposedFirstMs;
  chosenStrip.stepStops120 = u16(proposedStops120);
  chosenStrip.stepMs = 0;
  chosenStrip.patches = u8(proposedPatches);
}

/** The pass is as the version that was right; where none was, as the nearest, and the next bracket goes about that. */
function takeVersion(nowUs: i64): void {
  seen(0, nowUs);
  recipePassAt(activeRecipe, givenPass).stops120 = i16(chosenStops120());
  recipeIsChanged(true);
  const name = recipeBeginAt(activeRecipe).name;
  const baseMs = i32(recipeHeadAt(activeRecipe).baseMs);
  logRecipeChange(name, Turnable.Pass, givenPass + 1, 0, baseMs, chosenStops120(), nowUs);
  situation.job = isFound() ? Job.Recipe : Job.Bracket;
}

/** The lamp's lag is that of the patch; where none was right, the next test begins or ends with the nearest. */
function takeLag(nowUs: i64): void {
  seen(0, nowUs);
  if (!isFound()) {
    const end = LAMP_TEST_PATCHES - 1;
    testLagsFrom(chosenVerdict() == Verdict.TooLight ? testLagMs(end) : 2 * testLagMs(0) - testLagMs(end));
    situation.job = Job.LampTest;
    return;
  }
  takeSetting(SettingName.LampLagMs, Finding.LampLagMs, chosenLagMs(), nowUs);
}

function takeMinutes(nowUs: i64): void {
  takeSetting(SettingName.SafeMinutes, Finding.SafeMinutes, chosenMinutes(), nowUs);
}

function takeSetting(name: SettingName, what: Finding, value: i32, nowUs: i64): void {
  changeSetting(name, value);
  willBeKept(Unkept.Settings);
  logTestResult(what, value, nowUs);
  situation.job = Job.Strip;
}
