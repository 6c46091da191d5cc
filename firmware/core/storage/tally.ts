/**
 * The tally: the boot's number, and up to which entry the laptop has let go of the log. It is a small journal
 * of its own, so that a full log can still be forgotten.
 */
import {
  JOURNAL_BYTES,
  Journal,
  nextRecord,
  openJournal,
  RecordType,
  record,
  SLOT_BYTES,
  startWalk,
} from './journal';
import { queueRecord } from './journal-writer';
import { TALLY_OFFSET, TALLY_SECTORS } from './layout';

/** "Tly1", little-endian. */
const TALLY_MAGIC: u32 = 0x31796c54;

export const tally: Journal = changetype<Journal>(memory.data(JOURNAL_BYTES, 8));
/** The last entry that may be forgotten, 0 before there is any. */
export let forgottenSeq: u32 = 0;
let askedSeq: u32 = 0;
/** 1..65535, then from 1 again. */
export let bootNumber: u32 = 0;

/** Reads what the last boot left; `bootNumber` is then that boot's, or 0 on a fresh board. */
export function openTally(): void {
  tally.offset = TALLY_OFFSET;
  tally.sectors = TALLY_SECTORS;
  tally.magic = TALLY_MAGIC;
  tally.lastAllowed = u32.MAX_VALUE;
  openJournal(tally);
  // Every record says all, so the last one readable counts.
  startWalk(tally.oldestSector, SLOT_BYTES);
  while (nextRecord(tally)) {
    forgottenSeq = record.seq;
    bootNumber = record.boot;
  }
  askedSeq = forgottenSeq;
}

/** How far the log may be ahead of a tally whose last records have rotted. */
const BOOTS_AHEAD: u32 = 256;

/** Takes the next boot number and queues the record of it. `loggedBoot` is the newest in the log, or 0. */
export function countBoot(loggedBoot: u32): void {
  const isAhead = loggedBoot != 0 && ((loggedBoot - bootNumber) & 0xffff) < BOOTS_AHEAD;
  bootNumber = ((isAhead ? loggedBoot : bootNumber) + 1) & 0xffff;
  if (bootNumber == 0) bootNumber = 1;
  queueTally(forgottenSeq, 0);
}

/** Queues a record that never takes back what an earlier one that still waits lets go of. */
export function queueTally(forgetUptoSeq: u32, ticket: i32): void {
  askedSeq = max(askedSeq, forgetUptoSeq);
  queueRecord(tally, RecordType.Tally, 0, askedSeq, bootNumber, 0, 0, ticket);
}

export function tallyWritten(seq: u32): void {
  forgottenSeq = seq;
}
