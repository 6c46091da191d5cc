/** A log entry from the flash as its line. */
import { EXPOSURE_RESULT_BYTES, Exposure, ExposureResult } from '../generated/codec';
import { ENTRY_KINDS, ENTRY_MESSAGES, MessageType, Outcome } from '../generated/constants';
import { fieldOffset, writeRecord } from '../protocol/record-codec';
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

const NO_MESSAGE: i32 = 0xff;
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
  const type = messageOf(entryKind);
  if (type == NO_MESSAGE) return false;
  // Every record begins with boot and seq, in the order of the line.
  store<u16>(entry + fieldOffset(type, 0), u16(entryBoot));
  store<u32>(entry + fieldOffset(type, 1), entrySeq);
  if (type == MessageType.Exposure) completeExposure(changetype<Exposure>(entry));
  writeRecord(type, entry, id);
  return true;
}

/** The message that tells of a kind of entry, 0xff for kinds that this firmware does not know. */
function messageOf(kind: i32): i32 {
  return kind < ENTRY_KINDS ? load<u8>(ENTRY_MESSAGES + kind) : NO_MESSAGE;
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
