/** The whole core with an eye on its state: what tells two situations of the evening apart, as one number. */

import { askedBeforeLight } from '../../../firmware/core/evening/what-is-asked';
import { RunState, SettingName } from '../../../firmware/core/generated/constants';
import { filterOfPass } from '../../../firmware/core/jobs/filters';
import { pieceLabel } from '../../../firmware/core/jobs/recipe/labels';
import { Begun, begun } from '../../../firmware/core/log/outbox';
import { isGiven, passesLeftOut } from '../../../firmware/core/plan/giving';
import { eveningPlan } from '../../../firmware/core/plan/plan';
import { watching } from '../../../firmware/core/protocol/notices';
import { settingValue } from '../../../firmware/core/settings/settings';
import { Lit } from '../../../firmware/core/state/light';
import { NEVER } from '../../../firmware/core/state/never';
import { given, light, paper, situation } from '../../../firmware/core/state/state';
import { flashIsBusy } from '../../../firmware/core/storage/flash-queue';
import { waitingRecords } from '../../../firmware/core/storage/journal-writer';
import { endSeq, openSeq } from '../../../firmware/core/storage/ring';
import { shelfIsBusy, ticketOfTask } from '../../../firmware/core/storage/shelf-writer';
import { dueUs } from '../../../firmware/core/timers/timers';
import { add, beginHash, endHash } from './fingerprint-hash.as';
import { addState } from './generated/state-fingerprint.as';

export * from '../../../firmware/core/index';

/** Times are told apart to this, relative to now, up to LONGEST_US. */
const TIME_GRAIN_US: i64 = 50_000;
const LONGEST_US: i64 = 15_000_000;
/** What is left of a piece is told apart to this. */
const REST_GRAIN_US: u32 = 500_000;
/** All but that of the sounds. */
const TIMERS: i32 = 9;
function addTime(atUs: i64, nowUs: i64): void {
  if (atUs == NEVER) add(-1);
  else add(max(-LONGEST_US, min(LONGEST_US, atUs - nowUs)) / TIME_GRAIN_US);
}

/** What tells the situation apart from any other; `outside` stands for what the board and the line know: pins, lamp, flash, cable. */
export function fingerprint(nowUs: i64, outside: i32): u64 {
  beginHash();
  add(outside);
  addState(nowUs);
  addPlan();
  for (let timer = 0; timer < TIMERS; timer++) addTime(dueUs(timer), nowUs);
  addBesides();
  return endHash();
}

/** What the log, the shelf and the line remember, as far as the evening waits for it; and the settings that steer it. */
function addBesides(): void {
  add(begun);
  add(waitingRecords());
  add(shelfIsBusy() ? ticketOfTask : 0);
  add(i64(watching) | (i64(flashIsBusy()) << 1) | (i64(openSeq != 0) << 2));
  add(settingValue(SettingName.LensCheck) | (settingValue(SettingName.PauseForDodges) << 1));
  add(settingValue(SettingName.BathFollows) | (settingValue(SettingName.FirstToneFactor) << 1));
  add(settingValue(SettingName.TrayC10));
  add(situation.state == RunState.Ready ? askedBeforeLight() : 0);
}

function addPlan(): void {
  add(eveningPlan.passCount);
  if (situation.state == RunState.Rest || situation.state == RunState.Done) return;
  for (let index = 0; index < eveningPlan.pieceCount; index++)
    add(eveningPlan.piece(index).restUs / REST_GRAIN_US);
}

export function stateNow(): i32 {
  return situation.state;
}
export function jobNow(): i32 {
  return situation.job;
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
  return light.lit == Lit.Paper;
}
/** A pass that is given in many pulses goes on by itself, from the pedal that began it until the next press. */
export function isPulsing(): bool {
  return situation.state == RunState.Exposing && eveningPlan.pass(given.pass).pulses > 1 && given.pulse > 1;
}
/** The pass that is next or under way, from 1, and of how many; an ExposureKind; its patch; and what its pulse gives. */
export function passNow(): i32 {
  return given.pass + 1;
}
export function passesNow(): i32 {
  return eveningPlan.passCount;
}
export function kindNow(): i32 {
  return eveningPlan.pass(given.pass).kind;
}
export function patchNow(): i32 {
  return eveningPlan.pass(given.pass).patch;
}
export function pulsesNow(): i32 {
  return eveningPlan.pass(given.pass).pulses;
}
/** A text: what the hand is to do is in the label of a recipe's pass or dodge; empty where there is no recipe. */
export function labelNow(): usize {
  return pieceLabel(given.piece);
}
export function nextMs(): i32 {
  return (eveningPlan.piece(given.piece).restUs + 500) / 1000;
}
/** It is given out of turn: again, or past one that the sheet has not had. */
export function isOutOfTurn(): bool {
  return isGiven(given.pass) || passesLeftOut(given.pass) != 0;
}
/** It was left in the middle, after an answer, and goes on with what is left of it. */
export function isRestOfPass(): bool {
  return given.isRest;
}
/** A text. */
export function filterNow(): usize {
  return filterOfPass(given.pass);
}
/** The sheet that is under the enlarger, begun or not. */
export function sheetNow(): i32 {
  return paper.isBegun ? paper.sheet : paper.sheet + 1;
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
