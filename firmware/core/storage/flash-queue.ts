/**
 * The one way to the flash: one operation at a time, only while the lamp is off, the log before the shelf, and
 * sectors erased ahead only when the evening has nothing better to do.
 *
 * The board's event goes to `flashFinished`; then every finished request is taken with `takeFinished`; and at
 * the end of every event of any kind `runFlash` starts what there is to do.
 */

import { storageIsForeign } from './format-mark';
import { RecordType } from './journal';
import {
  finishJournal,
  issueJournal,
  prepareSector,
  waitingRecords,
  writtenCode,
  writtenSeq,
  writtenTicket,
  writtenType,
} from './journal-writer';
import { freeForgotten, openRing, ring, ringWritten } from './ring';
import { closeShelf, openShelf } from './shelf';
import {
  finishShelf,
  issueShelf,
  prepareDocument,
  shelfIsBusy,
  shelvedCode,
  shelvedTicket,
} from './shelf-writer';
import { Issued, StoreCode } from './store-code';
import { countBoot, openTally, tally, tallyWritten } from './tally';

enum Owner {
  None,
  Journals,
  Shelf,
}
let owner: Owner = Owner.None;
let isLampOn: bool = false;
let mayPrepare: bool = false;

/** After power-up, when nothing waits, and before anything else here: finds out what is stored. Reads only; writes are queued. */
export function openStorage(): void {
  openTally();
  const loggedBoot = openRing();
  openShelf();
  if (storageIsForeign()) closeShelf();
  else countBoot(loggedBoot);
}

/** To be called before the lamp comes on, and never while `flashIsBusy`. */
export function forbidFlash(): void {
  isLampOn = true;
}

export function allowFlash(): void {
  isLampOn = false;
}

/** Allows one sector to be erased ahead, which keeps the flash busy for up to 0.4 s. */
export function idle(): void {
  mayPrepare = true;
}

/** True while an operation is under way: until `flashFinished` the lamp must wait. */
export function flashIsBusy(): bool {
  return owner != Owner.None;
}

/** True when everything that was asked for is in flash. */
export function isStored(): bool {
  return owner == Owner.None && waitingRecords() == 0 && !shelfIsBusy();
}

/** Starts the next operation, if there is one and the lamp is off. */
export function runFlash(): void {
  if (owner != Owner.None || isLampOn || storageIsForeign()) return;
  if (startJournal()) owner = Owner.Journals;
  else if (startShelf()) owner = Owner.Shelf;
  else if (mayPrepare) prepare();
}

function startJournal(): bool {
  let issued = issueJournal();
  for (; issued == Issued.GaveUp; issued = issueJournal()) settleRecord();
  return issued == Issued.Started;
}

function startShelf(): bool {
  const issued = issueShelf();
  if (issued == Issued.GaveUp) report(shelvedTicket, shelvedCode);
  return issued == Issued.Started;
}

function prepare(): void {
  mayPrepare = false;
  if (prepareSector(ring) || prepareSector(tally)) owner = Owner.Journals;
  else if (prepareDocument()) owner = Owner.Shelf;
}

/** The board's flash operation is over. */
export function flashFinished(ok: bool): void {
  const whose = owner;
  owner = Owner.None;
  if (whose == Owner.Journals && finishJournal(ok)) settleRecord();
  if (whose == Owner.Shelf && finishShelf(ok)) report(shelvedTicket, shelvedCode);
}

function settleRecord(): void {
  if (writtenType != RecordType.Tally) ringWritten(writtenType, writtenCode);
  else if (writtenCode == StoreCode.Done) {
    tallyWritten(writtenSeq);
    freeForgotten();
  }
  report(writtenTicket, writtenCode);
}

// Requests that can be under way at once: the waiting records and one document. A power of two.
const FINISHED: u32 = 8;
const finishedTickets: usize = memory.data(FINISHED * 4, 4);
const finishedCodes: usize = memory.data(FINISHED);
let finishedFirst: u32 = 0;
let finishedCount: u32 = 0;

/** The request that `takeFinished` took: its ticket, and Done or Failed. */
export let finishedTicket: i32 = 0;
export let finishedCode: i32 = StoreCode.Done;

/** Takes the next request that came to its end; false when there is none. */
export function takeFinished(): bool {
  if (finishedCount == 0) return false;
  const slot = finishedFirst++ % FINISHED;
  finishedCount--;
  finishedTicket = load<i32>(finishedTickets + (slot << 2));
  finishedCode = load<i8>(finishedCodes + slot);
  return true;
}

/** Ticket 0 is nobody's. */
function report(ticket: i32, code: i32): void {
  if (ticket == 0 || finishedCount == FINISHED) return;
  const slot = (finishedFirst + finishedCount++) % FINISHED;
  store<i32>(finishedTickets + (slot << 2), ticket);
  store<i8>(finishedCodes + slot, <i8>code);
}
