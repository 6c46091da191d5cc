/** A log entry from the flash as its line. */
import {
  BathUsed,
  Clock,
  Exposure,
  Found,
  Kept,
  Lens,
  LensClosed,
  PedalStuck,
  Seen,
  Sheet,
  SheetEnded,
  Started,
  Turned,
  writeBathUsed,
  writeClock,
  writeExposure,
  writeFound,
  writeKept,
  writeLens,
  writeLensClosed,
  writePedalStuck,
  writeSeen,
  writeSheet,
  writeSheetEnded,
  writeStarted,
  writeTurned,
} from '../generated/codec';
import { Outcome } from '../generated/constants';
import {
  ENDED_BYTES,
  ENTRY_BYTES,
  EntryForm,
  entryBegunBytes,
  entryBoot,
  entryEndedBytes,
  entryForm,
  entryKind,
  entrySeq,
  readEntry,
} from '../storage/ring';
import { StoreCode } from '../storage/store-code';
import { EntryKind, EXPOSURE_RESULT_BYTES, ExposureResult } from './entry-kinds';

const entry: usize = memory.data(ENTRY_BYTES + ENDED_BYTES, 8);

/**
 * Writes the line of the first entry from `seq` on that is there, and answers its number; 0 when there is none.
 * Its number and boot are the storage's. One whose end is missing, since the power failed, is written as
 * interrupted, with no time and no dose; kinds that this firmware does not know are passed over.
 */
export function writeEntryLine(seq: u32, id: i32): u32 {
  for (let from = seq; readEntry(from, entry) == StoreCode.Done; from = entrySeq + 1)
    if (writeEntry(id)) return entrySeq;
  return 0;
}

function writeEntry(id: i32): bool {
  switch (entryKind) {
    case EntryKind.Started:
      writeStartedEntry(changetype<Started>(entry), id);
      return true;
    case EntryKind.Clock:
      writeClockEntry(changetype<Clock>(entry), id);
      return true;
    case EntryKind.Sheet:
      writeSheetEntry(changetype<Sheet>(entry), id);
      return true;
    case EntryKind.Exposure:
      writeExposureEntry(changetype<Exposure>(entry), id);
      return true;
    case EntryKind.Lens:
      writeLensEntry(changetype<Lens>(entry), id);
      return true;
    case EntryKind.PedalStuck:
      writePedalStuckEntry(changetype<PedalStuck>(entry), id);
      return true;
    case EntryKind.Seen:
      writeSeenEntry(changetype<Seen>(entry), id);
      return true;
    case EntryKind.Turned:
      writeTurnedEntry(changetype<Turned>(entry), id);
      return true;
    case EntryKind.Kept:
      writeKeptEntry(changetype<Kept>(entry), id);
      return true;
    case EntryKind.LensClosed:
      writeLensClosedEntry(changetype<LensClosed>(entry), id);
      return true;
    case EntryKind.SheetEnded:
      writeSheetEndedEntry(changetype<SheetEnded>(entry), id);
      return true;
    case EntryKind.BathUsed:
      writeBathUsedEntry(changetype<BathUsed>(entry), id);
      return true;
    case EntryKind.Found:
      writeFoundEntry(changetype<Found>(entry), id);
      return true;
    default:
      return false;
  }
}

function writeStartedEntry(record: Started, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeStarted(record, id);
}

function writeClockEntry(record: Clock, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeClock(record, id);
}

function writeSheetEntry(record: Sheet, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeSheet(record, id);
}

function writeExposureEntry(record: Exposure, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  completeExposure(record);
  writeExposure(record, id);
}

function writeLensEntry(record: Lens, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeLens(record, id);
}

function writePedalStuckEntry(record: PedalStuck, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writePedalStuck(record, id);
}

function writeSeenEntry(record: Seen, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeSeen(record, id);
}

function writeTurnedEntry(record: Turned, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeTurned(record, id);
}

function writeKeptEntry(record: Kept, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeKept(record, id);
}

function writeLensClosedEntry(record: LensClosed, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeLensClosed(record, id);
}

function writeSheetEndedEntry(record: SheetEnded, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeSheetEnded(record, id);
}

function writeBathUsedEntry(record: BathUsed, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeBathUsed(record, id);
}

function writeFoundEntry(record: Found, id: i32): void {
  record.seq = entrySeq;
  record.boot = u16(entryBoot);
  writeFound(record, id);
}

/** The begun part says what was planned; the ended one what came of it. Focus light is an entry at once. */
function completeExposure(exposure: Exposure): void {
  if (entryForm == EntryForm.Whole) return;
  if (entryForm != EntryForm.Ended || entryEndedBytes < EXPOSURE_RESULT_BYTES) {
    exposure.outcome = u8(Outcome.Interrupted);
    return;
  }
  const result = changetype<ExposureResult>(entry + entryBegunBytes);
  exposure.onMs = result.onMs;
  exposure.doseMs = result.doseMs;
  exposure.outcome = result.outcome;
  exposure.pauses = result.pauses;
}
