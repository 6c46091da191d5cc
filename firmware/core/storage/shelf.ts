/**
 * The shelf: named documents (recipes, settings ...), one to a sector. A sector holds its mark, a header and
 * the body; the header is programmed last, so a document is there whole or not at all. Of two with one name
 * the later sequence counts; the other is a ghost. A document is removed by clearing its header to zeros,
 * which no interrupted erase can bring back.
 *
 * Documents are known by the number of their sector. Names are a length byte, then the bytes.
 */
import { flashRead } from '../board';
import { SECTOR_BYTES } from '../generated/constants';
import { CRC32_EMPTY, crc32 } from '../protocol/crc32';
import { noteFormat } from './format-mark';
import { SHELF_OFFSET, SHELF_SECTORS } from './layout';
import { CHUNK_BYTES, chunk, MARK_BYTES, markedSequence, writtenEnd } from './sector-mark';
import { StoreCode } from './store-code';

export { DocumentKind } from '../generated/constants';

/** "Shf1", little-endian. */
export const SHELF_MAGIC: u32 = 0x31666853;

export const NAME_BYTES: i32 = 20;
export const BODY_AT: i32 = 64;
/** The most bytes of a document. */
export const DOCUMENT_BYTES: i32 = SECTOR_BYTES - BODY_AT;

@unmanaged
export class DocumentHeader {
  /** That of the sector's mark; the highest of a name counts. */
  sequence: u32;
  /** 1 for the first of a name, one more each time it is replaced. */
  revision: u32;
  bodyChecksum: u32;
  bodyBytes: u16;
  kind: u8;
  nameBytes: u8;
  name0: u64;
  name1: u64;
  name2: u32;
  checksum: u32;
  /** Behind the checksum, where the first format had nothing. */
  format: u16;

  /** Length byte and bytes, as names are handed over. */
  get name(): usize {
    return changetype<usize>(this) + offsetof<DocumentHeader>('nameBytes');
  }

  sum(): u32 {
    return crc32(SHELF_MAGIC, changetype<usize>(this), offsetof<DocumentHeader>('checksum'));
  }

  /** Unequal keys mean unequal documents. */
  key(): u32 {
    return crc32(this.kind, this.name, 1 + NAME_BYTES);
  }

  /** Sets kind and name, which has at most NAME_BYTES, and zeros for the rest of it. */
  setName(kind: i32, name: usize): void {
    this.kind = <u8>kind;
    memory.fill(this.name, 0, 1 + NAME_BYTES);
    memory.copy(this.name, name, 1 + load<u8>(name));
  }
}
export const DOCUMENT_HEADER_BYTES: i32 = offsetof<DocumentHeader>();

export enum SectorState {
  /** Holds nothing that counts, and is erased before it is used. */
  Free,
  /** Erased and marked. */
  Ready,
  Live,
  /** Holds an older version of a live document; to be cleared. */
  Ghost,
  /** Failed since power-up. */
  Bad,
}

const states: usize = memory.data(SHELF_SECTORS);
const kinds: usize = memory.data(SHELF_SECTORS);
const keys: usize = memory.data(SHELF_SECTORS * 4, 4);
const sequences: usize = memory.data(SHELF_SECTORS * 4, 4);
const header: DocumentHeader = changetype<DocumentHeader>(memory.data(DOCUMENT_HEADER_BYTES, 8));
const other: DocumentHeader = changetype<DocumentHeader>(memory.data(DOCUMENT_HEADER_BYTES, 8));
const best: DocumentHeader = changetype<DocumentHeader>(memory.data(DOCUMENT_HEADER_BYTES, 8));
/** The document that `describeDocument` was asked about last. */
export const described: DocumentHeader = changetype<DocumentHeader>(memory.data(DOCUMENT_HEADER_BYTES, 8));

/** The highest sequence given to a sector, and that sector: free ones are taken in turn from there. */
export let lastSequence: u32 = 0;
export let lastTaken: i32 = 0;

export function documentOffset(sector: i32): u32 {
  return SHELF_OFFSET + <u32>sector * SECTOR_BYTES;
}

export function stateOf(sector: i32): SectorState {
  return <SectorState>load<u8>(states + sector);
}

export function setState(sector: i32, state: SectorState): void {
  store<u8>(states + sector, <u8>state);
}

export function countSectors(state: SectorState): i32 {
  let count = 0;
  for (let sector = 0; sector < SHELF_SECTORS; sector++) if (stateOf(sector) == state) count++;
  return count;
}

/** The first sector in that state, counted round from the one after `from`; -1 if none. */
export function sectorAfter(from: i32, state: SectorState): i32 {
  for (let step = 1; step <= SHELF_SECTORS; step++) {
    const sector = (from + step) % SHELF_SECTORS;
    if (stateOf(sector) == state) return sector;
  }
  return -1;
}

/** The sector is the newest now: marked with the next sequence. */
export function takeSequence(sector: i32): u32 {
  lastTaken = sector;
  return ++lastSequence;
}

export function openShelf(): void {
  for (let sector = 0; sector < SHELF_SECTORS; sector++) openSector(sector);
  for (let sector = 0; sector < SHELF_SECTORS; sector++) settleName(sector);
  const offset = documentOffset(lastTaken) + MARK_BYTES;
  const isBlank = writtenEnd(offset, SECTOR_BYTES - MARK_BYTES) == 0;
  if (isBlank && isMarkedLast(lastTaken)) setState(lastTaken, SectorState.Ready);
}

/** Nothing of it is found, and no sector of it is ever used. */
export function closeShelf(): void {
  memory.fill(states, u8(SectorState.Bad), SHELF_SECTORS);
}

function isMarkedLast(sector: i32): bool {
  return lastSequence != 0 && markedSequence(documentOffset(sector), SHELF_MAGIC) == lastSequence;
}

function openSector(sector: i32): void {
  const live = readHeader(sector, header);
  if (live) index(sector, header);
  else setState(sector, SectorState.Free);
  const marked = markedSequence(documentOffset(sector), SHELF_MAGIC);
  if (marked != 0) noteFormat(header.format);
  const newest = live ? max(marked, header.sequence) : marked;
  if (newest <= lastSequence) return;
  lastSequence = newest;
  lastTaken = sector;
}

/** Reads and checks the header in a sector. */
function readHeader(sector: i32, into: DocumentHeader): bool {
  flashRead(documentOffset(sector) + MARK_BYTES, changetype<usize>(into), DOCUMENT_HEADER_BYTES);
  return into.kind != 0 && into.checksum == into.sum();
}

/** Makes a document the live one of its name. */
export function index(sector: i32, from: DocumentHeader): void {
  setState(sector, SectorState.Live);
  store<u8>(kinds + sector, from.kind);
  store<u32>(keys + (sector << 2), from.key());
  store<u32>(sequences + (sector << 2), from.sequence);
}

function keyOf(sector: i32): u32 {
  return load<u32>(keys + (sector << 2));
}

function sequenceOf(sector: i32): u32 {
  return load<u32>(sequences + (sector << 2));
}

/** Turns every older version of a live document into a ghost. */
export function settleName(sector: i32): void {
  if (stateOf(sector) != SectorState.Live) return;
  for (let rival = 0; rival < SHELF_SECTORS; rival++) {
    if (rival == sector || stateOf(rival) != SectorState.Live || !sameName(sector, rival)) continue;
    if (sequenceOf(rival) < sequenceOf(sector)) setState(rival, SectorState.Ghost);
  }
}

function sameName(one: i32, two: i32): bool {
  if (keyOf(one) != keyOf(two) || !readHeader(one, header) || !readHeader(two, other)) return false;
  return header.kind == other.kind && compareNames(header.name, other.name) == 0;
}

/** By bytes; names are in small letters, digits and hyphens. */
function compareNames(one: usize, two: usize): i32 {
  const shorter = min(load<u8>(one), load<u8>(two));
  const order = memory.compare(one + 1, two + 1, shorter);
  return order != 0 ? order : <i32>load<u8>(one) - <i32>load<u8>(two);
}

/** The document of that kind and name, or -1. */
export function findDocument(kind: i32, name: usize): i32 {
  other.setName(kind, name);
  const key = other.key();
  for (let sector = 0; sector < SHELF_SECTORS; sector++) {
    if (keyOf(sector) != key || !isKind(sector, kind)) continue;
    if (readHeader(sector, header) && compareNames(header.name, other.name) == 0) return sector;
  }
  return -1;
}

/** True for a live document of that kind. */
function isKind(sector: i32, kind: i32): bool {
  return stateOf(sector) == SectorState.Live && <i32>load<u8>(kinds + sector) == kind;
}

export function countDocuments(kind: i32): i32 {
  let count = 0;
  for (let sector = 0; sector < SHELF_SECTORS; sector++) if (isKind(sector, kind)) count++;
  return count;
}

/** The document that comes after `document` in the order of names, or the first for -1; -1 at the end. */
export function nextDocument(kind: i32, document: i32): i32 {
  let next = -1;
  const isFirst = document < 0 || !readHeader(document, other);
  for (let sector = 0; sector < SHELF_SECTORS; sector++) {
    if (!isKind(sector, kind) || !readHeader(sector, header)) continue;
    if (!isFirst && compareNames(header.name, other.name) <= 0) continue;
    if (next >= 0 && compareNames(header.name, best.name) >= 0) continue;
    next = sector;
    memory.copy(changetype<usize>(best), changetype<usize>(header), DOCUMENT_HEADER_BYTES);
  }
  return next;
}

/** Reads what there is to know of a document into `described`; false when there is no such document. */
export function describeDocument(document: i32): bool {
  return document >= 0 && stateOf(document) == SectorState.Live && readHeader(document, described);
}

/** Copies part of a document's body, which is not checked by this (see `isIntact`). */
export function readDocument(document: i32, at: i32, into: usize, length: i32): StoreCode {
  if (!describeDocument(document)) return StoreCode.NotFound;
  if (at + length > <i32>described.bodyBytes) return StoreCode.BadRequest;
  flashRead(documentOffset(document) + BODY_AT + at, into, length);
  return StoreCode.Done;
}

/** Something that is read at power-up was damaged, and first values stand in its place; nobody has seen that yet. */
export let firstValuesStand: bool = false;

export function forgetFirstValues(): void {
  firstValuesStand = false;
}

/**
 * Reads what is kept under that name, at most `room` bytes of it; how many bytes it has, 0 where there is none or it is
 * damaged.
 */
export function readWhole(kind: i32, name: usize, into: usize, room: i32): i32 {
  const document = findDocument(kind, name);
  if (!isIntact(document)) {
    if (document >= 0) firstValuesStand = true;
    return 0;
  }
  const length = i32(described.bodyBytes);
  flashRead(documentOffset(document) + BODY_AT, into, min(length, room));
  return length;
}

/** Whether the body is as it was when it was written, by its checksum. */
export function isIntact(document: i32): bool {
  return describeDocument(document) && bodySum(document, described.bodyBytes) == described.bodyChecksum;
}

/** The checksum of a body as it is in flash. */
export function bodySum(sector: i32, length: i32): u32 {
  const offset = documentOffset(sector) + BODY_AT;
  let sum = CRC32_EMPTY;
  for (let at = 0; at < length; at += CHUNK_BYTES) {
    const size = min(length - at, CHUNK_BYTES);
    flashRead(offset + at, chunk, size);
    sum = crc32(sum, chunk, size);
  }
  return sum;
}
