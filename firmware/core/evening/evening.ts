/** The evening begins, is asked by the line, and hears what the line and the shelf have changed. Nothing of it lights the lamp. */
import { bathAt, bathRow, openBaths, setCount } from '../baths/baths';
import { keepCounts, useIncomingBaths } from '../baths/incoming-baths';
import { openPoints } from '../baths/points';
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { ErrorCode, Job, RunState } from '../generated/constants';
import { tellCalendar } from '../jobs/clock/calendar-figures';
import { chooseFirstValues, FIRST_JOB, isOfRecipe, isPrint } from '../jobs/kinds';
import { FINE, takeRecipe } from '../jobs/recipe/recipe-in-use';
import { chooseStrip } from '../jobs/strip/strip-choice';
import { logClock, logMixed, logStarted } from '../log/entries';
import { startPedal } from '../pedal/pedal';
import { isEmptyText, sameText } from '../protocol/texts';
import { nameInUse } from '../recipe/recipe';
import { Unkept } from '../state/keeping';
import { Lit } from '../state/light';
import { Refusal } from '../state/situation';
import { chosen, chosenStrip, hands, keeping, left, light, situation, timed } from '../state/state';
import { StoreCode } from '../storage/store-code';
import { openDesk } from './desk';
import { goToRest, planAnew } from './enter';
import { startLampControl } from './lamp-control';
import { jobName, planJob } from './planned-job';
import { keepDesk } from './unkept';

/** After power-up; the state is empty, the storage open and the settings are restored. */
export function startEvening(cause: i32, detail: i32, nowUs: i64): void {
  openBaths();
  openPoints();
  situation.job = FIRST_JOB;
  timed.sheets = 1;
  chooseFirstValues();
  startLampControl();
  startPedal(nowUs);
  logStarted(cause, detail, nowUs);
  openDesk(nowUs);
  goToRest(nowUs);
}

export function runStateNow(): RunState {
  return situation.state;
}

export function chosenJob(): Job {
  return situation.job;
}

/** A text: the chosen recipe's name, or an empty one. */
export function chosenName(): usize {
  return jobName();
}

export function lensIsConfirmed(): bool {
  return situation.lensConfirmed;
}

export function pedalIsStuck(): bool {
  return hands.pedalIsStuck;
}

/** The flash has changed: a log that was full may have room again. */
export function lookForRoom(): void {
  if (situation.state == RunState.Rest && situation.refusal == Refusal.LogFull) planJob();
}

/** True when nothing is lit nor about to be, so that the flash may take its time. */
export function eveningIsIdle(): bool {
  // At rest again by a hold, and what was given of the sheet is not told yet.
  if (light.lit != Lit.No) return false;
  switch (situation.state) {
    case RunState.Rest:
    case RunState.LensCheck:
    case RunState.Choosing:
    case RunState.Asking:
    case RunState.Leaving:
    case RunState.StepReady:
    case RunState.Done:
      return true;
    default:
      return false;
  }
}

function printIsUnderWay(): bool {
  return situation.isPass() || situation.isStep() || light.lit == Lit.Paper;
}

/** Why nothing else may be chosen just now, an ErrorCode; or FINE. What is read on a sheet belongs to what is chosen. */
export function choosingFault(): i32 {
  const state = situation.state;
  const isAsked = state == RunState.Asking || state == RunState.Leaving;
  if (printIsUnderWay() || state == RunState.Choosing || isAsked) return ErrorCode.NotAllowed;
  return keeping.recipe ? ErrorCode.Busy : FINE;
}

/** What the pedal will start next; `name` (a text) matters for a recipe, and for a bracket, where empty is the one in use. */
export function chooseJob(job: Job, name: usize, nowUs: i64): i32 {
  const fault = choosingFault();
  if (fault != FINE) return fault;
  const isNamed = isPrint(job) || (isOfRecipe(job) && !isEmptyText(name));
  const code = isNamed ? takeRecipe(name) : FINE;
  if (code != FINE) return code;
  timed.jobBefore = Job.None;
  chosen.isNewNegative = false;
  left.isOffered = false;
  situation.job = job;
  planAnew(nowUs);
  return FINE;
}

/** The strip that the pedal will start next, where nothing speaks against it; it is as it was if the shelf will not have it. */
export function setStrip(from: StripSet, ticket: i32, nowUs: i64): StoreCode {
  memory.copy(stripBefore, changetype<usize>(chosenStrip), STRIP_SET_BYTES);
  chooseStrip(from);
  const code = keepDesk(ticket);
  if (code < 0) chooseStrip(changetype<StripSet>(stripBefore));
  else chooseJob(Job.Strip, jobName(), nowUs);
  return code;
}
const stripBefore: usize = memory.data(STRIP_SET_BYTES, 8);

/** The laptop's time, for the log. An ErrorCode, or FINE. */
export function takeClock(epochMs: i64, nowUs: i64): i32 {
  if (!logClock(epochMs, nowUs)) return ErrorCode.Busy;
  tellCalendar(epochMs, nowUs);
  return FINE;
}

/** A setting was changed. */
export function onSettingsChanged(): void {
  situation.planIsOld = true;
}

/** The shelf has another row of baths; a sheet that is done goes into that one. */
export function onBathsKept(): void {
  keeping.bathsAreNew = true;
  if (!situation.isStep()) useNewBaths();
}

function useNewBaths(): void {
  keeping.bathsAreNew = false;
  useIncomingBaths();
  if (situation.state == RunState.Rest) situation.planIsOld = true;
}

/** Sheets that were on their way through the baths when the row came went through the row before, and are counted. */
function useNewBathsAfterStep(): void {
  if (!keeping.bathsAreNew || situation.isStep()) return;
  keepCounts();
  keeping.waiting |= Unkept.Baths;
  useNewBaths();
}

/** The shelf has the row with one bath mixed fresh. */
export function onBathMixed(nowUs: i64): void {
  setCount(bathAt(bathRow, keeping.bathMixed), 0, 0);
  logMixed(keeping.bathMixed, nowUs);
}

/** The shelf has a new version of the recipe of this name. */
export function onRecipeKept(name: usize): void {
  if (!sameText(name, nameInUse())) return;
  chosen.recipeIsOld = true;
  situation.planIsOld = true;
}

/** To be called after every event: plans anew what has become old. A print under way goes on as it began. */
export function refreshPlan(nowUs: i64): void {
  useNewBathsAfterStep();
  if (!situation.planIsOld || printIsUnderWay()) return;
  situation.planIsOld = false;
  planAnew(nowUs);
}
