/**
 * What the evening wants logged, in order, handed to the storage as fast as that takes it. The evening never
 * waits for the log but in one place: the lamp does not come on before the begun entry is safe in flash.
 */

import { EXPOSURE_BYTES } from '../generated/codec';
import { appendRecord, beginRecord, endRecord } from '../storage/ring';
import { StoreCode } from '../storage/store-code';

/** Storage hands tickets back. From here on they are the log's; the line's requests have theirs below. */
export const LOG_TICKETS: i32 = 0x1_0000;
/** Nobody waits for it. */
const OTHER_TICKET: i32 = LOG_TICKETS;
/** Counts the begun entries, so that a late word about one is not taken for the next one's. */
let begunTicket: i32 = LOG_TICKETS;

export enum Form {
  Whole,
  Begun,
  Ended,
}

/** Where the entry stands that must be safe before the lamp comes on. */
export enum Begun {
  None,
  Waiting,
  Safe,
  Failed,
}
export let begun: Begun = Begun.None;
/** Entries that found no room since power-up; whoever diagnoses the board is told. */
export let entriesLost: u32 = 0;

@unmanaged
class Letter {
  form: u8;
  kind: u8;
  length: u16;
  spare: u32;

  get payload(): usize {
    return changetype<usize>(this) + LETTER_HEADER_BYTES;
  }
}
const LETTER_HEADER_BYTES: i32 = 8;
const LETTER_BYTES: i32 = LETTER_HEADER_BYTES + EXPOSURE_BYTES;
const LETTERS: i32 = 8;
const letters: usize = memory.data(LETTERS * LETTER_BYTES, 8);
let first: i32 = 0;
let count: i32 = 0;

function expectBegun(): void {
  begun = Begun.Waiting;
  begunTicket = begunTicket == i32.MAX_VALUE ? LOG_TICKETS + 1 : begunTicket + 1;
}

function letterAt(place: i32): Letter {
  return changetype<Letter>(letters + <usize>(((first + place) % LETTERS) * LETTER_BYTES));
}

/** Puts an entry, or a part of one, behind what waits; the bytes are copied. False when there is no room. */
export function post(form: Form, kind: i32, from: usize, length: i32): bool {
  if (form == Form.Begun) expectBegun();
  if (count == LETTERS) {
    entriesLost++;
    if (form == Form.Begun) begun = Begun.Failed;
    return false;
  }
  const letter = letterAt(count++);
  letter.form = u8(form);
  letter.kind = u8(kind);
  letter.length = u16(length);
  memory.copy(letter.payload, from, length);
  handOver();
  return true;
}

export function outboxIsEmpty(): bool {
  return count == 0;
}

/** Hands over as much as the storage takes now. */
export function handOver(): void {
  while (count > 0) {
    const letter = letterAt(0);
    const code = handed(letter);
    if (code == StoreCode.Busy) return;
    if (code < 0) refused(letter);
    first = (first + 1) % LETTERS;
    count--;
  }
}

function handed(letter: Letter): StoreCode {
  switch (<Form>letter.form) {
    case Form.Begun:
      return beginRecord(letter.kind, letter.payload, letter.length, begunTicket);
    case Form.Ended:
      return endRecord(letter.payload, letter.length, OTHER_TICKET);
    default:
      return appendRecord(letter.kind, letter.payload, letter.length, OTHER_TICKET);
  }
}

function refused(letter: Letter): void {
  entriesLost++;
  if (letter.form == Form.Begun) begun = Begun.Failed;
}

/** The storage has done with one of ours. */
export function logFinished(ticket: i32, code: StoreCode): void {
  if (ticket == begunTicket && begun == Begun.Waiting)
    begun = code == StoreCode.Done ? Begun.Safe : Begun.Failed;
  handOver();
}

/** The entry that was begun has been ended, and the next may begin. */
export function forgetBegun(): void {
  begun = Begun.None;
}
