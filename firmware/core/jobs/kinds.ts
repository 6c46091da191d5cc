/**
 * The table of kinds of work: what each of them answers to what the evening asks of all. A new kind is its own folder
 * beside this file, a Job in the schema, a row of TRAITS, and a case here and in kinds-shown.ts where it differs.
 */
import { Sheet } from '../generated/codec';
import { Job, RunState } from '../generated/constants';
import { PlanCode } from '../plan/plan';
import { hasRecipe } from '../recipe/recipe';
import { NEXT_PASS, NO_FIGURE } from '../state/chosen';
import { Refusal } from '../state/situation';
import { chosen, paper, readStrip } from '../state/state';
import { chooseFirstBracket } from './bracket/bracket-choice';
import * as bracket from './bracket/bracket-figures';
import * as bracketReading from './bracket/bracket-reading';
import { planCheckup } from './checkup/checkup';
import * as lampTest from './lamp-test/lamp-test';
import { Move } from './moves';
import { lastPatchChoice } from './patches';
import * as plain from './plain/plain-light';
import * as process from './process/process';
import * as bathFigures from './process/process-figures';
import * as print from './recipe/print-figures';
import { planPrint } from './recipe/print-plan';
import { describePrint } from './recipe/print-sheet';
import { FOG_BANDS } from './safelight-test/safelight-plan';
import * as safelight from './safelight-test/safelight-test';
import { nextSpreadFigure } from './spread-figures';
import * as strip from './strip/strip-choice';
import * as stripReading from './strip/strip-reading';
import * as stripSheet from './strip/strip-sheet';

enum Trait {
  /** It is of the recipe in use, and bears its name. */
  OfRecipe = 1,
  /** It is a print: counted as one, and given again from its last pass by the knob. */
  Print = 2,
  /** What was given is read on paper. */
  Read = 4,
  /** It is all steps without light, and a tap ends one. */
  Baths = 8,
  /** Its paper lies out in the safelight on purpose. */
  StaysOut = 16,
  /** Its passes are given in an order of their own. */
  FixedOrder = 32,
  /** A print of no recipe: one light, and all of it is on the screen of each of its figures. */
  Alone = 64,
  /** It looks for fog on bands that lie out for minutes, and its sheet sees no safelight but in those. */
  Fog = 128,
  /** Its tap leads to questions on the panel, by no means to light. */
  Asked = 256,
}
// In the order of Job.
// biome-ignore format: a row a kind
const TRAITS: usize = memory.data<u16>([
  /* none */           0,
  /* strip */          u16(Trait.Read),
  /* recipe */         u16(Trait.OfRecipe | Trait.Print),
  /* bracket */        u16(Trait.OfRecipe | Trait.Read),
  /* process */        u16(Trait.Baths | Trait.FixedOrder),
  /* safelight-test */ u16(Trait.Read | Trait.StaysOut | Trait.FixedOrder | Trait.Fog),
  /* lamp-test */      u16(Trait.Read),
  /* plain */          u16(Trait.Alone),
  /* stray-light */    u16(Trait.Read | Trait.StaysOut | Trait.FixedOrder | Trait.Fog),
  /* clock */          u16(Trait.Asked),
  /* checkup */        u16(Trait.Asked | Trait.StaysOut | Trait.FixedOrder),
]);
/** The knob's menu at rest, before and behind the recipes. */
const BEFORE_RECIPES: usize = memory.data<u8>([u8(Job.Clock), u8(Job.Plain), u8(Job.Process), u8(Job.Strip)]);
export const COUNT_BEFORE_RECIPES: i32 = 4;
const BEHIND_RECIPES: usize = memory.data<u8>([
  u8(Job.Bracket),
  u8(Job.SafelightTest),
  u8(Job.StrayLightTest),
  u8(Job.LampTest),
  u8(Job.Checkup),
]);
export const COUNT_BEHIND_RECIPES: i32 = 5;
/** Where an evening begins. */
export const FIRST_JOB: Job = Job.Strip;
/** It is for the recipe in use, or for a negative that has none. */
export const LAST_BEFORE_RECIPES: Job = Job.Strip;
export const JOB_OF_RECIPES: Job = Job.Recipe;

function has(job: Job, trait: Trait): bool {
  return (i32(load<u16>(TRAITS + (job << 1))) & trait) != 0;
}

export function isOfRecipe(job: Job): bool {
  return has(job, Trait.OfRecipe);
}

export function isPrint(job: Job): bool {
  return has(job, Trait.Print);
}

/** It is counted as a print when it is done. */
export function countsAsPrint(job: Job): bool {
  return has(job, Trait.Print | Trait.Alone);
}

/** What a push of the knob leads to at rest: from a plain exposure the usual strip is one push away. */
export function jobAtPush(job: Job): Job {
  return has(job, Trait.Alone) ? Job.Strip : job;
}

export function isRead(job: Job): bool {
  return has(job, Trait.Read);
}

export function isBaths(job: Job): bool {
  return has(job, Trait.Baths);
}

/** What comes is on the screen while the knob is at a figure, too. */
export function figuresShowAll(job: Job): bool {
  return has(job, Trait.Alone);
}

export function isAsked(job: Job): bool {
  return has(job, Trait.Asked);
}

/** It puts no light on paper, so the lens may be as it likes. */
export function isWithoutLight(job: Job): bool {
  return has(job, Trait.Baths | Trait.Asked);
}

export function staysOut(job: Job): bool {
  return has(job, Trait.StaysOut);
}

export function isFogTest(job: Job): bool {
  return has(job, Trait.Fog);
}

export function jobBeforeRecipes(place: i32): Job {
  return <Job>load<u8>(BEFORE_RECIPES + place);
}

export function jobBehindRecipes(place: i32): Job {
  return <Job>load<u8>(BEHIND_RECIPES + place);
}

/** After power-up: what each kind begins with where that is not zero. */
export function chooseFirstValues(): void {
  strip.chooseFirstStrip();
  chooseFirstBracket();
  safelight.chooseFirstGrey();
  plain.chooseFirstPlain();
}

/** Plans it as it lies in memory. */
export function planOf(job: Job): Refusal {
  switch (job) {
    case Job.Strip:
      return refusalOf(strip.planChosenStrip());
    case Job.Recipe:
      return refusalOf(planPrint());
    case Job.Bracket:
      return hasRecipe() ? refusalOf(bracket.planChosenBracket()) : Refusal.NothingChosen;
    case Job.Process:
      return process.planBaths() == PlanCode.Ok ? Refusal.None : Refusal.NoBaths;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      return refusalOf(safelight.planChosenFogTest(job));
    case Job.LampTest:
      return refusalOf(lampTest.planChosenLampTest());
    case Job.Plain:
      return refusalOf(plain.planPlain());
    case Job.Clock:
      return Refusal.None;
    case Job.Checkup:
      return planCheckup();
    default:
      return Refusal.NothingChosen;
  }
}

function refusalOf(code: PlanCode): Refusal {
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
    default:
      return Refusal.NothingChosen; // Its count, which the knob alone can turn to.
  }
}

/** The figure that a push of the knob goes on to. Once a sheet was begun, only the pass to be given next can be turned. */
export function nextFigure(job: Job): i32 {
  if (paper.isBegun && !has(job, Trait.FixedOrder)) return NEXT_PASS;
  switch (job) {
    case Job.Strip:
      return strip.nextStripFigure();
    case Job.Bracket:
      return nextSpreadFigure();
    case Job.Recipe:
      return print.nextPrintFigure();
    case Job.Process:
      return bathFigures.nextBathFigure();
    case Job.SafelightTest:
    case Job.StrayLightTest:
      return safelight.nextGreyFigure();
    case Job.LampTest:
      return lampTest.nextLagFigure();
    case Job.Plain:
      return plain.nextPlainFigure();
    default:
      return NO_FIGURE;
  }
}

export function figureValue(job: Job): i32 {
  switch (job) {
    case Job.Strip:
      return strip.stripFigureValue();
    case Job.Recipe:
      return print.printFigureValue();
    case Job.Bracket:
      return bracket.bracketFigureValue();
    case Job.Process:
      return bathFigures.bathFigureValue();
    case Job.SafelightTest:
    case Job.StrayLightTest:
      return chosen.greyMs;
    case Job.Plain:
      return plain.plainFigureValue();
    default:
      return chosen.firstLagMs;
  }
}

export function setFigure(job: Job, value: i32): void {
  switch (job) {
    case Job.Strip:
      strip.setStripFigure(value);
      return;
    case Job.Recipe:
      print.setPrintFigure(value);
      return;
    case Job.Bracket:
      bracket.setBracketFigure(value);
      return;
    case Job.Process:
      bathFigures.setBathFigure(value);
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      chosen.greyMs = value;
      return;
    case Job.Plain:
      plain.setPlainFigure(value);
      return;
    default:
      lampTest.setFirstLag(value);
  }
}

/** What the figure will be after so many clicks. */
export function figureAfter(job: Job, value: i32, clicks: i32): i32 {
  switch (job) {
    case Job.Strip:
      return strip.stripFigureAfter(value, clicks);
    case Job.Recipe:
      return print.printFigureAfter(value, clicks);
    case Job.Bracket:
      return bracket.bracketFigureAfter(value, clicks);
    case Job.Process:
      return bathFigures.bathFigureAfter(value, clicks);
    case Job.SafelightTest:
    case Job.StrayLightTest:
      return safelight.greyAfter(value, clicks);
    case Job.Plain:
      return plain.plainFigureAfter(value, clicks);
    default:
      return lampTest.lagAfter(value, clicks);
  }
}

/** The knob leaves a figure that it turned. */
export function logFigure(job: Job, nowUs: i64): void {
  if (job == Job.Recipe) print.logPrintFigure(nowUs);
  else if (job == Job.Process) bathFigures.logBathFigure(nowUs);
}

/** What the log says of a sheet of it. */
export function describeSheet(job: Job, entry: Sheet): void {
  switch (job) {
    case Job.Strip:
      stripSheet.describeStrip(entry);
      return;
    case Job.Bracket:
      bracketReading.describeBracket(entry);
      return;
    case Job.SafelightTest:
    case Job.StrayLightTest:
      safelight.describeFogTest(entry);
      return;
    case Job.LampTest:
      lampTest.describeLampTest(entry);
      return;
    case Job.Plain:
      plain.describePlain(entry);
      return;
    default:
      describePrint(entry);
  }
}

/** A sheet of it has had all its light: what will be read on it is remembered. */
export function keepToRead(job: Job): void {
  switch (job) {
    case Job.Strip:
      stripSheet.keepStripToRead();
      return;
    case Job.Bracket:
      bracketReading.keepBracketToRead();
      return;
    case Job.LampTest:
      lampTest.keepLampTestToRead();
      return;
  }
}

/** Where the knob stands when reading begins, where a careless push does no harm; and the last of what it can turn to. */
export function firstChoice(job: Job): i32 {
  return isFogTest(job) ? 0 : i32(readStrip.patches);
}

export function lastChoice(job: Job): i32 {
  return isFogTest(job) ? FOG_BANDS - 1 : lastPatchChoice();
}

/** Takes what the knob has turned to, and says how many stops the lens is to be stopped down. */
export function takeReadingOf(job: Job, nowUs: i64): i32 {
  switch (job) {
    case Job.Strip:
      return stripReading.takeStripReading(nowUs);
    case Job.Bracket:
      bracketReading.takeBracketReading(nowUs);
      return 0;
    case Job.LampTest:
      lampTest.takeLampTestReading(nowUs);
      return 0;
    default:
      safelight.takeFogReading(job, nowUs);
      return 0;
  }
}

// Steps that are timed without the lamp.

/** A step follows on the pass that has just been given, before the next pass. */
export function stepFollows(job: Job): bool {
  return isFogTest(job);
}

/** Nothing speaks against the step that is ready. */
export function canBeginStep(job: Job): bool {
  return job != Job.Process || process.canEnterBath();
}

/** A tap in the middle of the step says something, and does not end it. */
export function isTapAwaited(job: Job): bool {
  return job == Job.Process && process.isToneAwaited();
}

/** A tap means nothing yet. */
export function isTapTooSoon(job: Job): bool {
  return job == Job.Process && process.isTooSoonForTone();
}

export function takeTapInStep(nowUs: i64): void {
  process.takeFirstTone(nowUs);
}

export function beginStep(job: Job, nowUs: i64): void {
  if (job == Job.Process) process.enterBath(nowUs);
}

export function stepSeconds(job: Job): i32 {
  return job == Job.Process ? process.secondsInBath() : safelight.fogSeconds();
}

/** What the hand is to do at the second that has just come. */
export function stepMove(job: Job): Move {
  return job == Job.Process ? process.bathMove() : safelight.fogMove();
}

/** The step has had its time, or a tap ended it; answers where the evening goes from there. */
export function endStepOf(job: Job, givenMs: u32, nowUs: i64): RunState {
  return job == Job.Process ? process.leaveBath(givenMs, nowUs) : safelight.endFog();
}

/** The printer goes back to rest in the middle of it; a bath that the paper was in counts. */
export function breakOffStepOf(job: Job, givenMs: u32, nowUs: i64): void {
  if (job == Job.Process) process.leaveBath(givenMs, nowUs);
}
