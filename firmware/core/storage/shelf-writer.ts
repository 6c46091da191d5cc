/**
 * Puts documents on the shelf and takes them off, one at a time and one flash operation after another:
 * ghosts are cleared first, then a free sector is erased and marked, the body programmed and read back, then
 * the header, which is the moment that counts; then the version that was replaced is cleared.
 */
import { flashErase, flashProgram } from '../board';
import { PAGE_BYTES, RECIPES } from '../generated/constants';
import { CRC32_EMPTY, crc32 } from '../protocol/crc32';
import { FORMAT_MARK } from './format-mark';
import { SHELF_SECTORS } from './layout';
import { MARK_BYTES, programMark } from './sector-mark';
import {
  BODY_AT,
  bodySum,
  countDocuments,
  countSectors,
  DOCUMENT_BYTES,
  DOCUMENT_HEADER_BYTES,
  DocumentHeader,
  DocumentKind,
  describeDocument,
  described,
  documentOffset,
  findDocument,
  index,
  lastSequence,
  lastTaken,
  NAME_BYTES,
  SectorState,
  SHELF_MAGIC,
  sectorAfter,
  setState,
  settleName,
  takeSequence,
} from './shelf';
import { Issued, StoreCode } from './store-code';

/** Sectors left free, so that a document can always be replaced and the wear goes round. */
const FREE_SECTORS: i32 = 2;
export const DOCUMENTS: i32 = SHELF_SECTORS - FREE_SECTORS;
/** Sectors that are tried before a document is given up. */
const TRIED_SECTORS: i32 = 3;

enum Task {
  None,
  Put,
  Drop,
}
enum Step {
  None,
  Clear,
  Erase,
  /** Also while the mark is not programmed yet but must be next. */
  Mark,
  Body,
  Header,
}
let task: Task = Task.None;
let step: Step = Step.None;
/** The sector that the step is about. */
let sector: i32 = 0;
/** Of the document that is being put or dropped. */
export let ticketOfTask: i32 = 0;
let failures: i32 = 0;

/** The document being dropped, or none. */
let dropped: i32 = -1;
/** The document being put: its new header, where its bytes are and how many are programmed. */
const newHeader: DocumentHeader = changetype<DocumentHeader>(memory.data(DOCUMENT_HEADER_BYTES, 8));
let bodyFrom: usize = 0;
let bodyDone: i32 = 0;
let bodyPiece: i32 = 0;
let isCommitted: bool = false;
const zeros: usize = memory.data(DOCUMENT_HEADER_BYTES, 8);

/** What came of the task that ended last. */
export let shelvedTicket: i32 = 0;
export let shelvedCode: i32 = StoreCode.Done;

export function shelfIsBusy(): bool {
  return task != Task.None;
}

/**
 * Puts a document on the shelf in the place of one of the same kind and name, if there is one. The bytes at
 * `body` must stay as they are until the ticket comes back; then the new version is safe, and before it the old one is.
 */
export function putDocument(kind: i32, name: usize, body: usize, length: i32, ticket: i32): StoreCode {
  if (task != Task.None) return StoreCode.Busy;
  const nameBytes = <i32>load<u8>(name);
  if (kind < 1 || kind > 255 || nameBytes > NAME_BYTES) return StoreCode.BadRequest;
  if (length < 0 || length > DOCUMENT_BYTES) return StoreCode.BadRequest;
  const replaced = findDocument(kind, name);
  if (replaced < 0 && isFull(kind)) return StoreCode.Full;
  newHeader.revision = describeDocument(replaced) ? described.revision + 1 : 1;
  newHeader.setName(kind, name);
  newHeader.bodyBytes = <u16>length;
  newHeader.bodyChecksum = crc32(CRC32_EMPTY, body, length);
  bodyFrom = body;
  bodyDone = 0;
  isCommitted = false;
  return begin(Task.Put, ticket);
}

function isFull(kind: i32): bool {
  if (kind == DocumentKind.Recipe && countDocuments(kind) >= RECIPES) return true;
  return countSectors(SectorState.Live) >= DOCUMENTS;
}

/** Takes a document off the shelf. */
export function dropDocument(document: i32, ticket: i32): StoreCode {
  if (task != Task.None) return StoreCode.Busy;
  if (!describeDocument(document)) return StoreCode.NotFound;
  dropped = document;
  return begin(Task.Drop, ticket);
}

function begin(what: Task, ticket: i32): StoreCode {
  task = what;
  ticketOfTask = ticket;
  failures = 0;
  return StoreCode.Waiting;
}

/** Starts the next flash operation, if there is one to do. */
export function issueShelf(): Issued {
  if (step == Step.Mark) return issueMark();
  if (task == Task.None) return Issued.Nothing;
  // An older version must be gone before the newer one may go, or it would come back.
  const ghost = sectorAfter(0, SectorState.Ghost);
  if (ghost >= 0) return issueClear(ghost);
  if (task == Task.Drop) return issueClear(dropped);
  while (useReadySector()) {
    if (bodyDone < <i32>newHeader.bodyBytes) return issueBody();
    if (bodySum(sector, bodyDone) == newHeader.bodyChecksum) return issueHeader();
    if (leaveSector()) return Issued.GaveUp;
  }
  if (prepareDocument()) return Issued.Started;
  endTask(StoreCode.Failed);
  return Issued.GaveUp;
}

function useReadySector(): bool {
  const ready = sectorAfter(0, SectorState.Ready);
  if (ready >= 0) sector = ready;
  return ready >= 0;
}

/** Starts to erase the next free sector, unless one is ready or none is free. */
export function prepareDocument(): bool {
  if (sectorAfter(0, SectorState.Ready) >= 0) return false;
  const free = sectorAfter(lastTaken, SectorState.Free);
  if (free < 0) return false;
  sector = free;
  step = Step.Erase;
  flashErase(documentOffset(sector));
  return true;
}

function issueMark(): Issued {
  programMark(documentOffset(sector), SHELF_MAGIC, takeSequence(sector));
  return Issued.Started;
}

function issueClear(what: i32): Issued {
  sector = what;
  step = Step.Clear;
  flashProgram(documentOffset(sector) + MARK_BYTES, zeros, DOCUMENT_HEADER_BYTES);
  return Issued.Started;
}

function issueBody(): Issued {
  const at = BODY_AT + bodyDone;
  bodyPiece = min<i32>(newHeader.bodyBytes - bodyDone, PAGE_BYTES - (at % PAGE_BYTES));
  step = Step.Body;
  flashProgram(documentOffset(sector) + at, bodyFrom + bodyDone, bodyPiece);
  return Issued.Started;
}

function issueHeader(): Issued {
  newHeader.sequence = lastSequence;
  newHeader.checksum = newHeader.sum();
  newHeader.format = FORMAT_MARK;
  step = Step.Header;
  flashProgram(documentOffset(sector) + MARK_BYTES, changetype<usize>(newHeader), DOCUMENT_HEADER_BYTES);
  return Issued.Started;
}

/** The operation under way is over; true when that ended a task. */
export function finishShelf(ok: bool): bool {
  const done = step;
  step = Step.None;
  if (done == Step.Clear) return cleared(ok);
  if (!ok) return leaveSector();
  if (done == Step.Erase) step = Step.Mark;
  else if (done == Step.Mark) setState(sector, SectorState.Ready);
  else if (done == Step.Body) bodyDone += bodyPiece;
  else return commit();
  return false;
}

function commit(): bool {
  index(sector, newHeader);
  settleName(sector);
  isCommitted = true;
  return endWithoutGhosts();
}

function cleared(ok: bool): bool {
  if (task == Task.Drop && sector == dropped) {
    if (ok) setState(sector, SectorState.Free);
    return endTask(ok ? StoreCode.Done : StoreCode.Failed);
  }
  setState(sector, ok ? SectorState.Free : SectorState.Bad);
  return isCommitted && endWithoutGhosts();
}

function endWithoutGhosts(): bool {
  return sectorAfter(0, SectorState.Ghost) < 0 && endTask(StoreCode.Done);
}

/** The sector did not take an operation: what is being put starts again in another. */
function leaveSector(): bool {
  setState(sector, SectorState.Bad);
  bodyDone = 0;
  return task != Task.None && ++failures >= TRIED_SECTORS && endTask(StoreCode.Failed);
}

function endTask(code: StoreCode): bool {
  task = Task.None;
  isCommitted = false;
  shelvedTicket = ticketOfTask;
  shelvedCode = code;
  return true;
}
