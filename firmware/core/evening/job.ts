/** What the pedal will start: the strip, the recipe, the bracket, the test or the baths; and its plan. */
import { RECIPE_BEGIN_BYTES, STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Cover, ErrorCode, Job } from '../generated/constants';
import { planBracket } from '../plan/bracket-plan';
import { planRecipeBody, planStripSet } from '../plan/evening-plan';
import { planLampTest } from '../plan/lamp-test-plan';
import { eveningPlan, PlanCode } from '../plan/plan';
import { planSafelightTest } from '../plan/safelight-plan';
import { FIRST_STRIP_MS, FIRST_STRIP_PATCHES, FIRST_STRIP_STOPS120 } from '../plan/strip-proposal';
import { ascii, copyText } from '../protocol/texts';
import { activeRecipe, RECIPE_BODY_BYTES, recipeBeginAt, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { room } from '../storage/ring';
import {
  DocumentKind,
  describeDocument,
  described,
  findDocument,
  isIntact,
  readDocument,
} from '../storage/shelf';
import { bracketAnew, bracketPass, bracketSpread } from './bracket';
import { planBaths } from './processing';
import { forgetBracket } from './reading';
import { Refusal, situation } from './situation';
import { firstLagMs, greyMs } from './tests-on-paper';

/** Fine as asked; otherwise an ErrorCode. */
export const FINE: i32 = -1;
/** Entries that one sheet may need beside those of its passes: the sheet, the lens, a pedal that sticks, what the knob turned, the baths. */
const ENTRIES_BESIDE: i32 = 18;

export const chosenStrip = changetype<StripSet>(memory.data(STRIP_SET_BYTES, 8));

/** A first strip by whole stops over a range that meets almost any negative: 2 to 64 s. */
export function firstStrip(): void {
  chosenStrip.firstMs = FIRST_STRIP_MS;
  chosenStrip.stepStops120 = u16(FIRST_STRIP_STOPS120);
  chosenStrip.stepMs = 0;
  chosenStrip.patches = u8(FIRST_STRIP_PATCHES);
  chosenStrip.cover = u8(Cover.Cumulative);
}

/** The chosen recipe's name, empty where there is none. */
export function jobName(): usize {
  return jobIsOfRecipe() ? recipeBeginAt(activeRecipe).name : NO_NAME;
}

/** True for a print and for a bracket. */
export function jobIsOfRecipe(): bool {
  return situation.job == Job.Recipe || situation.job == Job.Bracket;
}

/** True for what is read afterwards as patches on paper, and not as a print. */
export function jobHasPatches(): bool {
  return situation.job == Job.Strip || situation.job == Job.Bracket || situation.job == Job.LampTest;
}
const NO_NAME: usize = memory.data(1);

/** The recipe in use is not as the shelf has it: the knob turned something, or it was made on the board. */
export let recipeChanged: bool = false;
export function recipeIsChanged(changed: bool): void {
  recipeChanged = changed;
}

/** A recipe of one pass, for a base that was found without any; its base is still to be set. */
export function plainRecipe(): void {
  memory.fill(activeRecipe, 0, RECIPE_BODY_BYTES);
  const begin = recipeBeginAt(activeRecipe);
  begin.passes = 1;
  copyText(begin.name, ascii('plain'));
  const pass = recipePassAt(activeRecipe, 0);
  pass.pass = 1;
  copyText(pass.label, ascii('whole sheet'));
  anotherRecipe();
}

/** What was chosen or given of the recipe before does not hold for this one. */
function anotherRecipe(): void {
  bracketAnew();
  forgetBracket();
}

export function hasRecipe(): bool {
  return recipeBeginAt(activeRecipe).passes != 0;
}

/** Takes the recipe of that name from the shelf; the one before stays when it is not there or damaged. */
export function takeRecipe(name: usize): i32 {
  const document = findDocument(DocumentKind.Recipe, name);
  if (document < 0 || !isIntact(document) || !describeDocument(document)) return ErrorCode.NotFound;
  const length = i32(described.bodyBytes);
  if (length < RECIPE_BEGIN_BYTES || length > i32(RECIPE_BODY_BYTES)) return ErrorCode.NotFound;
  memory.fill(activeRecipe, 0, RECIPE_BODY_BYTES);
  readDocument(document, 0, activeRecipe, length);
  recipeChanged = false;
  anotherRecipe();
  return FINE;
}

export function takeStrip(from: StripSet): void {
  memory.copy(changetype<usize>(chosenStrip), changetype<usize>(from), STRIP_SET_BYTES);
}

let takeAgain: bool = false;

/** The shelf has a newer version of the chosen recipe; it is taken when the next plan is made. */
export function takeAgainWhenPlanned(): void {
  takeAgain = true;
}

/** Plans what was chosen, and says in `situation.refusal` why it cannot be given. */
export function planJob(): bool {
  if (takeAgain) takeRecipe(recipeBeginAt(activeRecipe).name);
  takeAgain = false;
  return planAsItIs();
}

/** The same of what lies in memory, whatever the shelf has by now: for the sheet under way. */
export function planAsItIs(): bool {
  situation.refusal = refusalOf(planned());
  if (situation.refusal == Refusal.None && room() < eveningPlan.passCount + ENTRIES_BESIDE) {
    situation.refusal = Refusal.LogFull;
  }
  return situation.refusal == Refusal.None;
}

function planned(): i32 {
  switch (situation.job) {
    case Job.Strip:
      return planStripSet(eveningPlan, chosenStrip);
    case Job.Recipe:
      return planRecipeBody(eveningPlan, activeRecipe, recipeHeadAt(activeRecipe).baseMs);
    case Job.Bracket:
      return hasRecipe() ? planBracket(eveningPlan, activeRecipe, bracketPass, bracketSpread) : NOTHING;
    case Job.LampTest:
      return planLampTest(eveningPlan, firstLagMs);
    case Job.SafelightTest:
      return planSafelightTest(eveningPlan, greyMs);
    case Job.Process:
      return planBaths(eveningPlan);
    default:
      return NOTHING;
  }
}
const NOTHING: i32 = -1;

function refusalOf(code: i32): Refusal {
  switch (code) {
    case PlanCode.Ok:
      return Refusal.None;
    case PlanCode.BaseOutOfRange:
      return Refusal.BaseOutOfRange;
    case PlanCode.StopsOutOfRange:
      return Refusal.StopsOutOfRange;
    case PlanCode.TooLong:
      return Refusal.TooLong;
    case PlanCode.BelowLamp:
      return Refusal.BelowLamp;
    case PlanCode.DodgesTooLong:
      return Refusal.DodgesTooLong;
    case PlanCode.CountOutOfRange:
      return situation.job == Job.Process ? Refusal.NoBaths : Refusal.TooMany;
    default:
      return Refusal.NothingChosen;
  }
}
