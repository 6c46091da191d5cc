/**
 * Writes records to the journals, one flash operation at a time, in the order in which they were asked for.
 * A sector in which anything fails is left behind and the record goes into the next one.
 */
import { flashErase, flashProgram } from '../board';
import { SECTOR_BYTES } from '../generated/constants';
import {
  Journal,
  JournalRecord,
  placeFor,
  RECORD_BYTES,
  RECORD_HEADER_BYTES,
  RecordType,
  SLOT_BYTES,
} from './journal';
import { programMark } from './sector-mark';
import { Issued, StoreCode } from './store-code';

export const WAITING_RECORDS: i32 = 4;
/** Sectors that are tried before a record is given up. */
const TRIED_SECTORS: i32 = 3;

@unmanaged
class WaitingRecord {
  journal: Journal;
  ticket: i32;
  failures: i32;
  spare: u32;

  get record(): JournalRecord {
    return changetype<JournalRecord>(changetype<usize>(this) + WAITING_HEADER_BYTES);
  }
}
const WAITING_HEADER_BYTES: i32 = 16;
const WAITING_BYTES: i32 = WAITING_HEADER_BYTES + RECORD_BYTES;

const waiting: usize = memory.data(WAITING_BYTES * WAITING_RECORDS, 8);
let first: i32 = 0;
let count: i32 = 0;

enum Step {
  None,
  Erase,
  /** Also while the mark is not programmed yet but must be next. */
  Mark,
  Record,
}
let step: Step = Step.None;
let prepared: Journal = changetype<Journal>(0);
let placedAt: i32 = 0;

/** What came of the record that was written or given up last. */
export let writtenTicket: i32 = 0;
export let writtenType: u8 = 0;
export let writtenSeq: u32 = 0;
export let writtenCode: i32 = StoreCode.Done;

export function waitingRecords(): i32 {
  return count;
}

function waitingAt(place: i32): WaitingRecord {
  const slot = (first + place) % WAITING_RECORDS;
  return changetype<WaitingRecord>(waiting + slot * WAITING_BYTES);
}

/** Queues a record; the caller has made sure that a place is free and that the payload fits. */
export function queueRecord(
  journal: Journal,
  type: RecordType,
  kind: i32,
  seq: u32,
  boot: u32,
  from: usize,
  length: i32,
  ticket: i32,
): void {
  const slot = waitingAt(count++);
  slot.journal = journal;
  slot.ticket = ticket;
  slot.failures = 0;
  const record = slot.record;
  record.type = <u8>type;
  record.kind = <u8>kind;
  record.length = <u16>length;
  record.seq = seq;
  record.boot = <u16>boot;
  record.spare = 0;
  memory.copy(record.payload, from, length);
}

/** The number of the first entry that waits to be written, or 0. */
export function firstWaitingEntry(): u32 {
  for (let place = 0; place < count; place++) {
    const record = waitingAt(place).record;
    if (record.type == RecordType.Begun || record.type == RecordType.Whole) return record.seq;
  }
  return 0;
}

/** Starts the next flash operation, if there is one to do. */
export function issueJournal(): Issued {
  if (step == Step.Mark) return issueMark();
  if (count == 0) return Issued.Nothing;
  const slot = waitingAt(0);
  const journal = slot.journal;
  if (placeFor(journal, slot.record.slotBytes) < SECTOR_BYTES) return issueRecord(slot);
  if (journal.nextReady) {
    enterNextSector(journal);
    return issueRecord(slot);
  }
  if (prepareSector(journal)) return Issued.Started;
  endRecord(StoreCode.Failed);
  return Issued.GaveUp;
}

/** Starts to erase the sector after the head, unless that is done or would lose what is still needed. */
export function prepareSector(journal: Journal): bool {
  if (journal.nextReady || journal.headSector >= journal.lastAllowed) return false;
  prepared = journal;
  step = Step.Erase;
  flashErase(journal.sectorOffset(journal.headSector + 1));
  return true;
}

function issueMark(): Issued {
  const sequence = prepared.headSector + 1;
  programMark(prepared.sectorOffset(sequence), prepared.magic, sequence);
  return Issued.Started;
}

function issueRecord(slot: WaitingRecord): Issued {
  const journal = slot.journal;
  const record = slot.record;
  placedAt = placeFor(journal, record.slotBytes);
  record.checksum = record.sum(journal.headSector);
  step = Step.Record;
  const offset = journal.sectorOffset(journal.headSector) + placedAt;
  flashProgram(offset, changetype<usize>(record), RECORD_HEADER_BYTES + record.length);
  return Issued.Started;
}

function enterNextSector(journal: Journal): void {
  journal.headSector++;
  journal.headAt = SLOT_BYTES;
  journal.nextReady = false;
}

/** The operation under way is over; true when that brought a record to its end. */
export function finishJournal(ok: bool): bool {
  const done = step;
  step = Step.None;
  if (done == Step.Erase && ok) step = Step.Mark;
  else if (done == Step.Mark && ok) prepared.nextReady = true;
  else if (done != Step.Record) return skipNextSector();
  else return ok ? recordWritten() : leaveSector(waitingAt(0).journal);
  return false;
}

function recordWritten(): bool {
  const slot = waitingAt(0);
  slot.journal.headAt = placedAt + slot.record.slotBytes;
  endRecord(StoreCode.Done);
  return true;
}

/** The sector after the head cannot be erased or marked: its number is passed over. */
function skipNextSector(): bool {
  prepared.headSector++;
  return leaveSector(prepared);
}

function leaveSector(journal: Journal): bool {
  journal.headAt = SECTOR_BYTES;
  if (count == 0 || waitingAt(0).journal != journal) return false;
  if (++waitingAt(0).failures < TRIED_SECTORS) return false;
  endRecord(StoreCode.Failed);
  return true;
}

function endRecord(code: StoreCode): void {
  const slot = waitingAt(0);
  writtenTicket = slot.ticket;
  writtenType = slot.record.type;
  writtenSeq = slot.record.seq;
  writtenCode = code;
  first = (first + 1) % WAITING_RECORDS;
  count--;
}
