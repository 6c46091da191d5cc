/** Sheets going through the baths: which bath is next or under way, and how many sheets there are. */
import { bathAfter, bathAt, bathRow, bathSeconds, countThrough, drainSeconds } from '../baths/baths';
import { Job } from '../generated/constants';
import { logBathUsed } from '../log/entries';
import { Plan, PlanCode } from '../plan/plan';
import { takePaperIn } from './paper-out';
import { situation } from './situation';
import { Unkept, willBeKept } from './unkept';

/** More do not fit a tray. */
export const MOST_SHEETS: i32 = 12;

/** From 0. */
export let bathIndex: i32 = 0;
export let sheetsInBaths: i32 = 1;
/** What was chosen before a tap led to the baths, to go back to; None when the baths were chosen themselves. */
export let jobBeforeBaths: Job = Job.None;
let outMs: u32 = 0;

/** After power-up. */
export function startProcessing(): void {
  bathIndex = 0;
  sheetsInBaths = 1;
  jobBeforeBaths = Job.None;
}

/** The baths light no lamp, so their plan has no pass. */
export function planBaths(plan: Plan): PlanCode {
  plan.begin(0, true);
  return bathAfter(-1) < 0 ? plan.refuse(PlanCode.CountOutOfRange, -1, -1, 0, 0) : PlanCode.Ok;
}

/** A sheet has its light: it goes on to the baths, and from there back to what was chosen. */
export function followWithBaths(): void {
  jobBeforeBaths = situation.job;
  situation.job = Job.Process;
}

/** Back to what was chosen before, if the baths followed on it. */
export function leaveBaths(): void {
  if (situation.job == Job.Process && jobBeforeBaths != Job.None) situation.job = jobBeforeBaths;
  jobBeforeBaths = Job.None;
}

/** Something else was chosen meanwhile. */
export function forgetJobBefore(): void {
  jobBeforeBaths = Job.None;
}

/** There must be a bath, as `planBaths` says. */
export function beginBaths(): void {
  bathIndex = bathAfter(-1);
}

/** One that the paper in use goes into; those before it have been had already, or are left out. */
export function bathIsNext(index: i32): void {
  bathIndex = index;
}

export function isFirstBath(): bool {
  return bathAfter(-1) == bathIndex;
}

export function sheetsAre(sheets: i32): bool {
  if (sheets < 1 || sheets > MOST_SHEETS) return false;
  sheetsInBaths = sheets;
  return true;
}

/** The paper goes in. */
export function enterBath(nowUs: i64): void {
  outMs = isFirstBath() ? takePaperIn(nowUs) : 0;
}

/** When the paper is lifted out to drain. */
export function liftSeconds(): i32 {
  return bathSeconds(bathIndex) - drainSeconds(bathIndex);
}

/** Agitation is due at `second` of the bath. */
export function agitatesAt(second: i32): bool {
  const every = i32(bathAt(bathRow, bathIndex).agitationSeconds);
  return every != 0 && second % every == 0 && second < liftSeconds();
}

/** The paper comes out after `givenMs`: it is counted. True when there is a bath after this one. */
export function leaveBath(givenMs: u32, nowUs: i64): bool {
  countThrough(bathIndex, sheetsInBaths);
  willBeKept(Unkept.Baths);
  logBathUsed(bathIndex, sheetsInBaths, givenMs, outMs, nowUs);
  const next = bathAfter(bathIndex);
  if (next < 0) return false;
  bathIndex = next;
  return true;
}

/** Which of those that the paper goes into it is, from 1, for the panel. */
export function bathNumber(): i32 {
  let number = 0;
  for (let index = bathAfter(-1); index >= 0 && index <= bathIndex; index = bathAfter(index)) number++;
  return number;
}

export function bathsInAll(): i32 {
  let count = 0;
  for (let index = bathAfter(-1); index >= 0; index = bathAfter(index)) count++;
  return count;
}
