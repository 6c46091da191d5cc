/** The whole core with an eye on its state: what tells two situations of the evening apart, as one number. */

import { figure } from '../../../firmware/core/evening/figure';
import { Lit, lit } from '../../../firmware/core/evening/lamp-control';
import { passIndex, pauses, pulseNumber, segmentIndex } from '../../../firmware/core/evening/pass';
import { bathIndex, jobBeforeBaths, sheetsInBaths } from '../../../firmware/core/evening/processing';
import { choice, closingStops, unreadJob } from '../../../firmware/core/evening/reading';
import { situation } from '../../../firmware/core/evening/situation';
import { elapsedSeconds } from '../../../firmware/core/evening/steps';
import { RunState, SettingName } from '../../../firmware/core/generated/constants';
import { Begun, begun } from '../../../firmware/core/log/outbox';
import { pedalStuck } from '../../../firmware/core/pedal/pedal';
import { eveningPlan } from '../../../firmware/core/plan/plan';
import { watching } from '../../../firmware/core/protocol/notices';
import { settingValue } from '../../../firmware/core/settings/settings';
import { flashIsBusy } from '../../../firmware/core/storage/flash-queue';
import { waitingRecords } from '../../../firmware/core/storage/journal-writer';
import { endSeq, openSeq } from '../../../firmware/core/storage/ring';
import { shelfIsBusy, ticketOfTask } from '../../../firmware/core/storage/shelf-writer';
import { dueUs, NEVER } from '../../../firmware/core/timers/timers';

export * from '../../../firmware/core/index';

/** Times are told apart to this, relative to now, up to LONGEST_US. */
const TIME_GRAIN_US: i64 = 50_000;
const LONGEST_US: i64 = 15_000_000;
/** What is left of a piece is told apart to this. */
const REST_GRAIN_US: u32 = 500_000;
/** All but that of the sounds. */
const TIMERS: i32 = 9;
/** Of a bath, or of the safelight's minutes. */
const STEP_GRAIN_SECONDS: i32 = 20;
/** The pulses of one pass in the middle are all alike. */
const MOST_PULSES: i32 = 3;
const MOST_PAUSES: i32 = 2;

// In two halves, since one literal of 64 bits is more than JavaScript tools can read.
const OFFSET_BASIS: u64 = ((<u64>0xcbf29ce4) << 32) | 0x84222325;
let hash: u64 = 0;

/** One step of the 64-bit FNV-1a hash, a word at a time (offset basis and prime by its authors). */
function add(word: i64): void {
  hash = (hash ^ u64(word)) * 0x100000001b3;
}

function addTime(atUs: i64, nowUs: i64): void {
  if (atUs == NEVER) add(-1);
  else add(max(-LONGEST_US, min(LONGEST_US, atUs - nowUs)) / TIME_GRAIN_US);
}

/** `outside` stands for what the board and the line know: pins, lamp, flash, cable. Exact as a JavaScript number. */
export function fingerprint(nowUs: i64, outside: i32): f64 {
  hash = OFFSET_BASIS;
  add(outside);
  addSituation(nowUs);
  addPlan();
  for (let timer = 0; timer < TIMERS; timer++) addTime(dueUs(timer), nowUs);
  add(settingValue(SettingName.LensCheck) | (settingValue(SettingName.PauseForDodges) << 1));
  return f64(hash >> 11);
}

function addSituation(nowUs: i64): void {
  add(situation.state);
  add(situation.job);
  add(situation.refusal);
  add(i64(situation.lensConfirmed) | (i64(situation.startWanted) << 1) | (i64(situation.leaving) << 2));
  add(nowUs < situation.deafUntilUs);
  add(lit);
  add(i64(pedalStuck) | (i64(watching) << 1) | (i64(flashIsBusy()) << 2) | (i64(openSeq != 0) << 3));
  add(situation.pulseDue);
  add(begun);
  add(waitingRecords());
  add(shelfIsBusy() ? ticketOfTask : 0);
  add(figure);
  add(unreadJob);
  add(choice);
  add(closingStops);
  addBaths();
}

function addBaths(): void {
  add(jobBeforeBaths);
  add(sheetsInBaths);
  add(settingValue(SettingName.BathFollows));
  if (situation.state != RunState.StepReady && situation.state != RunState.Timing) return;
  add(bathIndex);
  add(elapsedSeconds / STEP_GRAIN_SECONDS);
}

function addPlan(): void {
  add(min(pulseNumber, MOST_PULSES));
  add(passIndex);
  add(segmentIndex);
  add(min(pauses, MOST_PAUSES));
  add(eveningPlan.passCount);
  if (situation.state == RunState.Rest || situation.state == RunState.Done) return;
  for (let index = 0; index < eveningPlan.segmentCount; index++)
    add(eveningPlan.segment(index).restUs / REST_GRAIN_US);
}

export function stateNow(): i32 {
  return situation.state;
}
export function lensConfirmedNow(): bool {
  return situation.lensConfirmed;
}
export function startWantedNow(): bool {
  return situation.startWanted;
}
export function deafNow(nowUs: i64): bool {
  return nowUs < situation.deafUntilUs;
}
export function litForPaper(): bool {
  return lit == Lit.Paper;
}
/** A pass that is given in many pulses goes on by itself, from the pedal that began it until the next press. */
export function isPulsing(): bool {
  return situation.state == RunState.Exposing && eveningPlan.pass(passIndex).pulses > 1 && pulseNumber > 1;
}
export function entryIsSafe(): bool {
  return begun == Begun.Safe;
}
export function endSeqNow(): u32 {
  return endSeq();
}

/** Where the core's static data ends; the heap behind it is never used. */
export function dataEnd(): usize {
  return __heap_base;
}
