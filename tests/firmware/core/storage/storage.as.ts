/** The stores as a test sees them: the core's own functions and two buffers to hand payloads over. */
export {
  allowFlash,
  flashFinished,
  flashIsBusy,
  forbidFlash,
  idle,
  isStored,
  openStorage,
  runFlash,
  takeFinished,
} from '../../../../firmware/core/storage/flash-queue';
export {
  appendRecord,
  beginRecord,
  endRecord,
  endSeq,
  forgetUpTo,
  readEntry,
  room,
} from '../../../../firmware/core/storage/ring';
export {
  countDocuments,
  findDocument,
  isIntact,
  nextDocument,
  readDocument,
} from '../../../../firmware/core/storage/shelf';
export { dropDocument, putDocument } from '../../../../firmware/core/storage/shelf-writer';

import * as queue from '../../../../firmware/core/storage/flash-queue';
import * as ring from '../../../../firmware/core/storage/ring';
import * as shelf from '../../../../firmware/core/storage/shelf';
import * as tally from '../../../../firmware/core/storage/tally';

export const payload: usize = memory.data(512);
export const name: usize = memory.data(64);
export const body: usize = memory.data(4096);
export const fetched: usize = memory.data(4096);

export function finishedTicket(): i32 {
  return queue.finishedTicket;
}
export function finishedCode(): i32 {
  return queue.finishedCode;
}
export function nextSeq(): u32 {
  return ring.nextSeq;
}
export function openSeq(): u32 {
  return ring.openSeq;
}
export function entrySeq(): u32 {
  return ring.entrySeq;
}
export function entryKind(): i32 {
  return ring.entryKind;
}
export function entryBoot(): u32 {
  return ring.entryBoot;
}
export function entryForm(): i32 {
  return ring.entryForm;
}
export function entryBegunBytes(): i32 {
  return ring.entryBegunBytes;
}
export function entryEndedBytes(): i32 {
  return ring.entryEndedBytes;
}
export function forgottenSeq(): u32 {
  return tally.forgottenSeq;
}
export function bootNumber(): u32 {
  return tally.bootNumber;
}
/** Revision and length of a document, its name to `name`; -1 when there is none. */
export function describe(document: i32): i32 {
  if (!shelf.describeDocument(document)) return -1;
  memory.copy(name, shelf.described.name, 1 + shelf.NAME_BYTES);
  return shelf.described.bodyBytes;
}
export function revision(): u32 {
  return shelf.described.revision;
}
