/**
 * A journal: records appended one after another round a ring of sectors. The log and the tally are journals.
 *
 * Sector number `sequence` (from 1, rising for ever) lies at place `sequence % sectors`, so wear is even. A
 * record begins on a 32-byte slot and stays inside one page: one program writes it whole. Its checksum is
 * seeded with its sector's sequence, so what an earlier lap left behind is never taken for a record, and
 * records can be read even where a sector's mark has rotted.
 */
import { flashRead } from '../board';
import { PAGE_BYTES, SECTOR_BYTES } from '../generated/constants';
import { crc32 } from '../protocol/crc32';
import { MARK_BYTES, markedSequence, writtenEnd } from './sector-mark';

/** Records begin on multiples of this; the first slot of a sector holds its mark. */
export const SLOT_BYTES: i32 = 32;
export const RECORD_HEADER_BYTES: i32 = 16;
/** What fits even into a sector's first page. */
export const RECORD_BYTES: i32 = PAGE_BYTES - SLOT_BYTES;
export const PAYLOAD_BYTES: i32 = RECORD_BYTES - RECORD_HEADER_BYTES;

export enum RecordType {
  /** The planned part of an entry, written before the lamp comes on. */
  Begun = 1,
  /** The result of the entry begun under the same number. */
  Ended = 2,
  /** An entry complete at once. */
  Whole = 3,
  /** The tally's: up to where the log may be forgotten, and the boot's number. */
  Tally = 4,
}

/** A record as it lies in flash; its payload follows the header. */
@unmanaged
export class JournalRecord {
  type: u8;
  kind: u8;
  length: u16;
  seq: u32;
  boot: u16;
  spare: u16;
  checksum: u32;

  get payload(): usize {
    return changetype<usize>(this) + RECORD_HEADER_BYTES;
  }

  get slotBytes(): i32 {
    return slotsFor(this.length);
  }

  sum(sectorSequence: u32): u32 {
    const header = crc32(sectorSequence, changetype<usize>(this), offsetof<JournalRecord>('checksum'));
    return crc32(header, this.payload, this.length);
  }
}

@unmanaged
export class Journal {
  offset: u32;
  sectors: u32;
  magic: u32;
  /** The sector being written, 0 before there is any, and where in it the next record may begin. */
  headSector: u32;
  headAt: i32;
  /** The sector after it is erased and marked already. */
  nextReady: bool;
  /** The last sector that may be used without losing what is still needed. */
  lastAllowed: u32;

  sectorOffset(sequence: u32): u32 {
    return this.offset + (sequence % this.sectors) * SECTOR_BYTES;
  }

  /** The oldest sector that can still be there. */
  get oldestSector(): u32 {
    return this.headSector >= this.sectors ? this.headSector - this.sectors + 1 : 1;
  }
}
export const JOURNAL_BYTES: i32 = 32;

/** The record that was read last. */
export const record: JournalRecord = changetype<JournalRecord>(memory.data(RECORD_BYTES, 8));

/** Whole slots taken by a record of that many payload bytes. */
export function slotsFor(payloadBytes: i32): i32 {
  return alignUp(RECORD_HEADER_BYTES + payloadBytes, SLOT_BYTES);
}

export function alignUp(bytes: i32, unit: i32): i32 {
  return (bytes + unit - 1) & ~(unit - 1);
}

/** Finds the end of the journal after power-up. */
export function openJournal(journal: Journal): void {
  let newest: u32 = 0;
  for (let place: u32 = 0; place < journal.sectors; place++) {
    const sequence = markedSequence(journal.offset + place * SECTOR_BYTES, journal.magic);
    if (sequence % journal.sectors == place) newest = max(newest, sequence);
  }
  // Newest sectors whose marks have rotted are told by their records.
  for (let step: u32 = 0; step < journal.sectors; step++) {
    if (findRecord(journal, newest + 1, SLOT_BYTES) == SECTOR_BYTES) break;
    newest++;
  }
  journal.nextReady = newest > 1 && isFresh(journal, newest) && isMarked(journal, newest - 1);
  journal.headSector = journal.nextReady ? newest - 1 : newest;
  journal.headAt = newest == 0 ? SECTOR_BYTES : tailOf(journal, journal.headSector);
}

function isMarked(journal: Journal, sequence: u32): bool {
  return markedSequence(journal.sectorOffset(sequence), journal.magic) == sequence;
}

function isFresh(journal: Journal, sequence: u32): bool {
  return writtenEnd(journal.sectorOffset(sequence), SECTOR_BYTES) <= MARK_BYTES;
}

/** A page that the power may have cut into is left alone: half-programmed cells may change their minds. */
function tailOf(journal: Journal, sequence: u32): i32 {
  const end = writtenEnd(journal.sectorOffset(sequence), SECTOR_BYTES);
  return end <= MARK_BYTES ? SLOT_BYTES : alignUp(end, PAGE_BYTES);
}

/** Where a record of `slotBytes` goes in the head sector; SECTOR_BYTES when it does not fit any more. */
export function placeFor(journal: Journal, slotBytes: i32): i32 {
  let at = journal.headAt;
  if ((at % PAGE_BYTES) + slotBytes > PAGE_BYTES) at = alignUp(at, PAGE_BYTES);
  return at + slotBytes <= SECTOR_BYTES ? at : SECTOR_BYTES;
}

/** The place of the first record at or after `from` in a sector, read into `record`; SECTOR_BYTES if none. */
export function findRecord(journal: Journal, sequence: u32, from: i32): i32 {
  for (let at = from; at < SECTOR_BYTES; at += SLOT_BYTES) {
    if (readRecord(journal, sequence, at)) return at;
  }
  return SECTOR_BYTES;
}

function readRecord(journal: Journal, sequence: u32, at: i32): bool {
  const offset = journal.sectorOffset(sequence) + at;
  flashRead(offset, changetype<usize>(record), RECORD_HEADER_BYTES);
  if (record.type == 0 || record.type > <u8>RecordType.Tally) return false;
  if ((at % PAGE_BYTES) + RECORD_HEADER_BYTES + <i32>record.length > PAGE_BYTES) return false;
  if (<i32>record.length > PAYLOAD_BYTES) return false;
  flashRead(offset + RECORD_HEADER_BYTES, record.payload, record.length);
  return record.checksum == record.sum(sequence);
}

let walkSector: u32 = 0;
let walkAt: i32 = 0;

/** The next `nextRecord` looks at or after this place. */
export function startWalk(sector: u32, at: i32): void {
  walkSector = sector;
  walkAt = at;
}

/** Reads the next record of the journal into `record`; false when the walk has come to the journal's end. */
export function nextRecord(journal: Journal): bool {
  for (; walkSector <= journal.headSector; walkSector++, walkAt = SLOT_BYTES) {
    const at = findRecord(journal, walkSector, walkAt);
    if (at < SECTOR_BYTES) {
      walkAt = at + record.slotBytes;
      return true;
    }
  }
  return false;
}

/** Where the walk goes on: sector and place. */
export function walkedSector(): u32 {
  return walkSector;
}
export function walkedAt(): i32 {
  return walkAt;
}
