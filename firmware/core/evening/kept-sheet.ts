/**
 * A sheet that has not had all its light, as it lies on the desk over power-off: what it is given from, what it has had, and
 * where the log stood. What the log has beyond that was given since, or was cut with the power; how much of a light that was
 * cut fell on the sheet nobody knows, so the printer is asked.
 */
import { Exposure, ExposureResult, Sheet, SheetEnded } from '../generated/codec';
import { EntryKind, Job, Outcome, RunState } from '../generated/constants';
import { isOfRecipe, stepFollows } from '../jobs/kinds';
import { FINE, takeRecipe } from '../jobs/recipe/recipe-in-use';
import { logSheetEnded } from '../log/entries';
import { Begun, begun } from '../log/outbox';
import { beginPass, markPassGiven, passDueAfter, passNow } from '../plan/giving';
import { eveningPlan, leftPlan } from '../plan/plan';
import { refitPulse } from '../plan/pulses';
import { copyText, sameText } from '../protocol/texts';
import { nameInUse, recipeBeginAt } from '../recipe/recipe';
import { NO_FIGURE } from '../state/chosen';
import { Given } from '../state/given';
import { Lit } from '../state/light';
import { leftChosen, leftGiven, leftSpread, NOTED_BYTES, noted } from '../state/noted';
import { chosen, given, left, light, paper, situation } from '../state/state';
import {
  ENDED_BYTES,
  ENTRY_BYTES,
  EntryForm,
  entryBegunBytes,
  entryForm,
  entryKind,
  entrySeq,
  nextSeq,
  openSeq,
  readEntry,
} from '../storage/ring';
import { StoreCode } from '../storage/store-code';
import { leftRecipe, noteSheet } from './noted-sheet';
import { planAsItIs } from './planned-job';

@unmanaged
class KeptSheet {
  /** Of all of this: what another firmware left is not read. */
  bytes: i32;
  job: Job;
  sheet: i32;
  passCount: i32;
  /** Tells whether what is planned from it after power-off is the same light. */
  planSum: u32;
  /** What is left of the piece that is next; 0 where its pass begins anew. */
  restUs: u32;
  /** What the log has from here on is not in this. */
  seq: u32;
  isLit: bool;
  /** The log says that it was left. */
  isEnded: bool;
}
const NAME_AT: usize = offsetof<KeptSheet>();
const NOTED_AT: usize = (NAME_AT + 24 + 7) & ~7;
export const KEPT_SHEET_BYTES: i32 = i32(NOTED_AT) + NOTED_BYTES;

/** The one that the power was cut from, as long as it can be gone on with. */
const shelved: usize = memory.data(<i32>NOTED_AT, 8);
const entry: usize = memory.data(ENTRY_BYTES + ENDED_BYTES, 8);

/** The sheet waits for the pedal, and the foot has not asked for light: the flash may take its time. */
export function sheetWaits(): bool {
  if (light.lit != Lit.No || situation.startWanted) return false;
  const state = situation.state;
  if (state == RunState.Ready) return chosen.figure == NO_FIGURE && begun == Begun.None;
  return state == RunState.Paused || state == RunState.BetweenDodges;
}

/** Lays it to `into`, which is zero; `before` is what was laid before. */
export function layKeptSheet(into: usize, before: usize): void {
  const isUnderWay = situation.isPass() && left.job == Job.None && (paper.isOpen || !paper.isBegun);
  if (isUnderWay) noteSheet();
  const job = isUnderWay ? situation.job : left.job;
  if (job == Job.None || stepFollows(job)) return;
  memory.copy(into + NOTED_AT, noted, NOTED_BYTES);
  if (left.isFromShelf) {
    memory.copy(into, shelved, NOTED_AT);
    return;
  }
  const kept = changetype<KeptSheet>(into);
  kept.bytes = KEPT_SHEET_BYTES;
  kept.job = job;
  // One that was left is the last that had light, whatever waits for its own.
  const isOther = paper.isOpen && !paper.isLit;
  kept.sheet = isUnderWay ? paper.sheet + i32(!paper.isBegun) : paper.sheet - i32(isOther);
  kept.passCount = leftPlan.passCount;
  kept.planSum = leftPlan.sum();
  kept.restUs = leftPlan.piece(leftGiven.piece).restUs;
  kept.isLit = !isUnderWay || (paper.isLit && paper.isBegun);
  kept.isEnded = !isUnderWay;
  copyText(into + NAME_AT, recipeBeginAt(leftRecipe).name);
  kept.seq = changetype<KeptSheet>(before).seq;
  if (memory.compare(into, before, KEPT_SHEET_BYTES) == 0) return;
  kept.seq = isUnderWay && situation.state != RunState.Ready ? openSeq : nextSeq;
}

/** After power-up, from what lay on the desk: a tap will go on with it. */
export function openKeptSheet(from: usize, nowUs: i64): void {
  const kept = changetype<KeptSheet>(shelved);
  memory.copy(shelved, from, NOTED_AT);
  if (kept.bytes != KEPT_SHEET_BYTES) return;
  memory.copy(noted, from + NOTED_AT, NOTED_BYTES);
  memory.copy(changetype<usize>(given), noted, offsetof<Given>());
  eveningPlan.passCount = kept.passCount;
  const goesOn = hearLog(kept);
  memory.copy(noted, changetype<usize>(given), offsetof<Given>());
  if (!goesOn) return;
  leftPlan.passCount = kept.passCount;
  left.job = kept.job;
  left.isOffered = true;
  left.isFromShelf = true;
  paper.sheet = kept.sheet;
  if (kept.isEnded) return;
  kept.isEnded = true;
  paper.wasted = 1;
  logSheetEnded(kept.sheet, Outcome.Interrupted, 0, 0, 1, nowUs);
}

/**
 * What the log has of it beyond what was kept; false where it has had all its light, none, or another was begun, or where the
 * recipe was turned before its first light and the shelf did not take that.
 */
function hearLog(kept: KeptSheet): bool {
  let isOther = false;
  for (; readEntry(kept.seq, entry) == StoreCode.Done; kept.seq = entrySeq + 1) {
    switch (<EntryKind>entryKind) {
      case EntryKind.Exposure:
        if (!hearLight(kept, isOther)) return false;
        break;
      case EntryKind.Sheet:
        isOther = isOtherSheet(kept);
        break;
      case EntryKind.RecipeChange:
        if (!kept.isLit) return false;
        break;
      case EntryKind.SheetUnused:
        isOther = false;
        break;
      case EntryKind.SheetEnded:
        if (changetype<SheetEnded>(entry).outcome == Outcome.Complete) return false;
        kept.isEnded = true;
        break;
      case EntryKind.SheetResumed:
        kept.isEnded = false;
        break;
    }
  }
  return !isOther && kept.isLit && given.pass < kept.passCount;
}

/** Begun in the log: a number begins anew with each power-up, and is given again where a sheet saw no light. */
function isOtherSheet(kept: KeptSheet): bool {
  const sheet = changetype<Sheet>(entry);
  return kept.isLit || i32(sheet.sheet) != kept.sheet || sheet.job != kept.job;
}

/** A pass of it was given, or some of it, or the power was cut in it; false where that was another sheet's light. */
function hearLight(kept: KeptSheet, isOther: bool): bool {
  const exposure = changetype<Exposure>(entry);
  const result = changetype<ExposureResult>(entry + entryBegunBytes);
  const isEnded = entryForm == EntryForm.Ended;
  const isOnNone = exposure.sheet == 0;
  if (isOnNone || (isEnded && result.doseMs == 0)) return true;
  if (isOther) return false;
  kept.isLit = true;
  kept.restUs = 0;
  given.isRest = false;
  const pass = passOf(exposure, kept.job);
  if (pass != given.pass) beginPass(pass);
  markPassGiven();
  if (isEnded && result.outcome == Outcome.Complete) beginPass(passDueAfter());
  else given.mostMs += isEnded ? result.doseMs : exposure.plannedMs;
  return true;
}

/** The pass of the plan that an entry is about, from 0: a shelf that takes nothing more knows none of those that followed. */
function passOf(exposure: Exposure, job: Job): i32 {
  const pass = i32(exposure.pass);
  const isBehind = job == Job.Bracket && pass > leftChosen.bracketPass + 1;
  const patch = i32(isBehind ? leftSpread.patches : exposure.patch);
  return pass + patch - min(pass, 1) - (job == Job.LampTest ? 0 : min(patch, 1));
}

/** Its recipe is in use again. */
export function takeKeptRecipe(): bool {
  const name = shelved + NAME_AT;
  return !isOfRecipe(left.job) || sameText(nameInUse(), name) || takeRecipe(name) == FINE;
}

/** What it is given from is chosen again; false where that does not make the same light any more. */
export function planKeptSheet(): bool {
  const kept = changetype<KeptSheet>(shelved);
  if (!planAsItIs() || eveningPlan.sum() != kept.planSum) return false;
  if (kept.restUs == 0) {
    given.piece = passNow().firstPiece;
    given.pulse = 1;
  } else refitPulse(eveningPlan, given.piece, kept.restUs);
  return true;
}
