/**
 * The log: entries numbered by `seq` from 1, one apart for ever. An entry is either complete at once, or begun
 * before the lamp comes on and ended after it went out; one that was begun and never ended, because the power
 * failed or the end was not to be read, is given back as interrupted. Payloads are opaque here.
 *
 * Nothing is overwritten before it was forgotten (see `forgetUpTo`); a full log refuses new entries, and the
 * last free sector is kept for the end of an entry that was begun.
 */
import { PAGE_BYTES, SECTOR_BYTES } from '../generated/constants';
import { storageIsForeign } from './format-mark';
import {
  alignUp,
  findRecord,
  JOURNAL_BYTES,
  Journal,
  nextRecord,
  openJournal,
  PAYLOAD_BYTES,
  RecordType,
  record,
  SLOT_BYTES,
  startWalk,
  walkedAt,
  walkedSector,
} from './journal';
import { firstWaitingEntry, queueRecord, WAITING_RECORDS, waitingRecords } from './journal-writer';
import { RING_OFFSET, RING_SECTORS } from './layout';
import { StoreCode } from './store-code';
import { bootNumber, forgottenSeq, queueTally } from './tally';

/** "Log1", little-endian. */
const RING_MAGIC: u32 = 0x31676f4c;

/** The most bytes of an entry, or of its begun part; and of its ended part. */
export const ENTRY_BYTES: i32 = PAYLOAD_BYTES;
/** One slot, so that an entry of two records never takes more than a page on average. */
export const ENDED_BYTES: i32 = 16;
const PAGES_PER_SECTOR: i32 = SECTOR_BYTES / PAGE_BYTES;

export const ring: Journal = changetype<Journal>(memory.data(JOURNAL_BYTES, 8));
/** The number that the next entry will get. */
export let nextSeq: u32 = 1;
/** The entry begun and not ended, or 0. */
export let openSeq: u32 = 0;
let ending: bool = false;

/** Finds the log after power-up; the tally is open already. Answers the newest boot number that it knows. */
export function openRing(): u32 {
  ring.offset = RING_OFFSET;
  ring.sectors = RING_SECTORS;
  ring.magic = RING_MAGIC;
  nextSeq = forgottenSeq + 1;
  openJournal(ring);
  const boot = readNewest();
  freeForgotten();
  return boot;
}

/** Sets `nextSeq` from the newest sector that has a whole or begun record in it. */
function readNewest(): u32 {
  let boot: u32 = 0;
  for (let sector = ring.headSector; sector >= ring.oldestSector; sector--) {
    let numbered = false;
    let newestHere: u32 = 0;
    for (let at = findRecord(ring, sector, SLOT_BYTES); at < SECTOR_BYTES; ) {
      newestHere = record.boot;
      numbered = numbered || record.type != RecordType.Ended;
      nextSeq = max(nextSeq, record.seq + 1);
      at = findRecord(ring, sector, at + record.slotBytes);
    }
    if (boot == 0) boot = newestHere;
    if (numbered) break;
  }
  return boot;
}

/** Lets the writer use the sectors that hold nothing but forgotten entries. */
export function freeForgotten(): void {
  ring.lastAllowed = sectorOf(forgottenSeq + 1) + RING_SECTORS - 1;
}

/** The last sector that can hold the entry `seq`, or anything before it. */
function sectorOf(seq: u32): u32 {
  let low = ring.oldestSector;
  let high = ring.headSector;
  let found: u32 = 0;
  while (low <= high) {
    const middle = low + (high - low) / 2;
    let probe = middle;
    let first = firstSeqIn(probe);
    while (first == 0 && probe > low) first = firstSeqIn(--probe);
    if (first != 0 && first <= seq) found = probe;
    if (first == 0 || first <= seq) low = middle + 1;
    else high = probe - 1;
  }
  return found != 0 ? found : firstWithRecords();
}

/** The lowest number that begins in a sector, 0 when it has no records. */
function firstSeqIn(sector: u32): u32 {
  if (findRecord(ring, sector, SLOT_BYTES) == SECTOR_BYTES) return 0;
  return record.type == RecordType.Ended ? record.seq + 1 : record.seq;
}

function firstWithRecords(): u32 {
  let sector = ring.oldestSector;
  while (sector < ring.headSector && firstSeqIn(sector) == 0) sector++;
  return sector;
}

/** Entries that there is certainly room for; each is counted as a page, though small ones share. */
export function room(): i32 {
  if (storageIsForeign()) return 0;
  const lastUsable = ring.lastAllowed - 1;
  if (ring.headSector > lastUsable) return 0;
  const pagesHere = (SECTOR_BYTES - alignUp(ring.headAt, PAGE_BYTES)) / PAGE_BYTES;
  const sectors = <i32>(lastUsable - ring.headSector);
  return max(0, pagesHere + sectors * PAGES_PER_SECTOR - waitingRecords());
}

/** Begins the entry `openSeq`: it is safe, and the lamp may come on, when the ticket comes back as done. */
export function beginRecord(kind: i32, from: usize, length: i32, ticket: i32): StoreCode {
  if (openSeq != 0) return StoreCode.Busy;
  const code = queueEntry(RecordType.Begun, kind, from, length, ticket);
  if (code == StoreCode.Waiting) openSeq = nextSeq - 1;
  return code;
}

/** Ends the entry `openSeq`, with at most ENDED_BYTES of results. There is always room for it. */
export function endRecord(from: usize, length: i32, ticket: i32): StoreCode {
  if (openSeq == 0 || ending || length > ENDED_BYTES) return StoreCode.BadRequest;
  ending = true;
  queueRecord(ring, RecordType.Ended, 0, openSeq, bootNumber, from, length, ticket);
  return StoreCode.Waiting;
}

/** Adds an entry that is complete at once; it has the number `nextSeq` had before. */
export function appendRecord(kind: i32, from: usize, length: i32, ticket: i32): StoreCode {
  return queueEntry(RecordType.Whole, kind, from, length, ticket);
}

function queueEntry(type: RecordType, kind: i32, from: usize, length: i32, ticket: i32): StoreCode {
  if (length > ENTRY_BYTES) return StoreCode.BadRequest;
  if (room() == 0) return StoreCode.Full;
  if (queueIsFull()) return StoreCode.Busy;
  queueRecord(ring, type, kind, nextSeq++, bootNumber, from, length, ticket);
  return StoreCode.Waiting;
}

/** One place is kept for the end of an entry. */
function queueIsFull(): bool {
  return waitingRecords() >= WAITING_RECORDS - 1;
}

/** Lets go of the entries up to and with `seq`, never of one that cannot be read yet. */
export function forgetUpTo(seq: u32, ticket: i32): StoreCode {
  const upto = min(seq, endSeq() - 1);
  if (upto <= forgottenSeq) return StoreCode.Done;
  if (queueIsFull()) return StoreCode.Busy;
  queueTally(upto, ticket);
  return StoreCode.Waiting;
}

/** A record of the log came to its end, written or given up. */
export function ringWritten(type: u8, code: StoreCode): void {
  if (type == RecordType.Ended || (type == RecordType.Begun && code != StoreCode.Done)) {
    openSeq = 0;
    ending = false;
  }
}

/** The first number that cannot be read yet: begun only, waiting to be written, or not given. */
export function endSeq(): u32 {
  const waiting = firstWaitingEntry();
  const end = waiting != 0 ? waiting : nextSeq;
  return openSeq != 0 ? min(openSeq, end) : end;
}

export enum EntryForm {
  Whole,
  Ended,
  Interrupted,
}

/** The entry that `readEntry` read last. */
export let entrySeq: u32 = 0;
export let entryKind: i32 = 0;
export let entryBoot: u32 = 0;
export let entryForm: EntryForm = EntryForm.Whole;
export let entryBegunBytes: i32 = 0;
export let entryEndedBytes: i32 = 0;

// Behind the entry read last, so that reading on needs no search. A sector used anew in the meantime does no
// harm: its records do not fit the old sector's number and are passed over.
let cursorSeq: u32 = 0;
let cursorSector: u32 = 0;
let cursorAt: i32 = 0;

/**
 * Reads the first entry from `seq` on that is there: its begun (or only) part to `into`, its ended part right
 * behind, so at most ENTRY_BYTES + ENDED_BYTES. `entrySeq` is above `seq` where entries were forgotten or
 * have rotted. NotFound when there is none before `endSeq()`.
 */
export function readEntry(seq: u32, into: usize): StoreCode {
  const end = endSeq();
  const from = max(seq, forgottenSeq + 1);
  if (from >= end) return StoreCode.NotFound;
  if (from == cursorSeq) startWalk(cursorSector, cursorAt);
  else startWalk(sectorOf(from), SLOT_BYTES);
  while (nextRecord(ring)) {
    if (record.type == RecordType.Ended || record.seq < from) continue;
    if (record.seq >= end) break;
    takeEntry(into);
    return StoreCode.Done;
  }
  return StoreCode.NotFound;
}

function takeEntry(into: usize): void {
  entrySeq = record.seq;
  entryKind = record.kind;
  entryBoot = record.boot;
  entryBegunBytes = record.length;
  entryEndedBytes = 0;
  cursorSeq = entrySeq + 1;
  cursorSector = walkedSector();
  cursorAt = walkedAt();
  memory.copy(into, record.payload, record.length);
  if (record.type == RecordType.Whole) entryForm = EntryForm.Whole;
  else takeEnd(into + entryBegunBytes);
}

/** Only one entry is open at a time, so its end comes before anything else is begun and before the next boot. */
function takeEnd(into: usize): void {
  entryForm = EntryForm.Interrupted;
  while (nextRecord(ring) && record.boot == entryBoot && record.type != RecordType.Begun) {
    if (record.type != RecordType.Ended || record.seq != entrySeq) continue;
    entryForm = EntryForm.Ended;
    entryEndedBytes = record.length;
    memory.copy(into, record.payload, record.length);
    return;
  }
}
