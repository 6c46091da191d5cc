/**
 * Reads and writes any message by the table that is generated from the schema: one small loop instead of a
 * function a message, since the core must fit a small board.
 */
import {
  CHOICE_AT,
  CHOICE_COUNT,
  CHOICE_WORDS,
  FIELD_RANGES,
  FIELDS,
  FIRST_FIELDS,
  FieldKind,
  MESSAGE_TYPE_CHOICE,
  TEXT_BOUNDS,
  WIDE_RANGES,
} from '../generated/field-table';
import { linePassed, readChoice, readFlag, readHex, readInteger, readText, readType } from './line-reader';
import { beginLine, endLine, putChoice, putFlag, putHex, putInteger, putText } from './line-writer';

/** A field's three bytes: its kind, its offset in the record, and one that the kind explains. */
const FIELD_BYTES: usize = 3;

function fieldAt(type: i32, index: i32): usize {
  return FIELDS + (usize(load<u16>(FIRST_FIELDS + (type << 1))) + index) * FIELD_BYTES;
}

function fieldCount(type: i32): i32 {
  return i32(load<u16>(FIRST_FIELDS + (type << 1), 2)) - i32(load<u16>(FIRST_FIELDS + (type << 1)));
}

/** Where field `index` (from 0, in the order of the line) lies in a record of that type. */
export function fieldOffset(type: i32, index: i32): usize {
  return load<u8>(fieldAt(type, index), 1);
}

function wordsOf(choice: i32): usize {
  return CHOICE_WORDS + load<u16>(CHOICE_AT + (choice << 1));
}

function countOf(choice: i32): i32 {
  return load<u8>(CHOICE_COUNT + choice);
}

/** The MessageType that a line begins with, or -1. */
export function readMessageType(): i32 {
  return readType(wordsOf(MESSAGE_TYPE_CHOICE), countOf(MESSAGE_TYPE_CHOICE));
}

/** Reads the fields of the line at hand into a record; false when they are not what the schema allows. */
export function readRecord(type: i32, into: usize): bool {
  const count = fieldCount(type);
  for (let index = 0; index < count; index++) {
    const field = fieldAt(type, index);
    readField(index + 1, field, into + load<u8>(field, 1));
  }
  return linePassed();
}

function readField(number: i32, field: usize, to: usize): void {
  const kind: FieldKind = load<u8>(field);
  const a = i32(load<u8>(field, 2));
  switch (kind) {
    case FieldKind.Flag:
      store<u8>(to, u8(readFlag(number)));
      return;
    case FieldKind.Choice:
      store<u8>(to, u8(readChoice(number, wordsOf(a), countOf(a))));
      return;
    case FieldKind.Hex8:
      store<u32>(to, u32(readHex(number, 8)));
      return;
    case FieldKind.Hex16:
      store<u64>(to, readHex(number, 16));
      return;
    case FieldKind.Text:
    case FieldKind.Name:
      readText(number, to, textBound(a, 0), textBound(a, 1), kind == FieldKind.Name);
      return;
    default:
      storeInteger(kind, to, readInteger(number, rangeEnd(kind, a, 0), rangeEnd(kind, a, 1)));
  }
}

/** `which` is 0 for the least, 1 for the most. */
function rangeEnd(kind: FieldKind, range: i32, which: i32): i64 {
  const at = (range << 1) + which;
  if (kind == FieldKind.Signed64) return load<i64>(WIDE_RANGES + (at << 3));
  const end = load<i32>(FIELD_RANGES + (at << 2));
  return kind <= FieldKind.Unsigned32 ? i64(u32(end)) : i64(end);
}

/** `which` is 0 for characters, 1 for bytes on the line. */
function textBound(text: i32, which: i32): i32 {
  return load<u8>(TEXT_BOUNDS + (text << 1) + which);
}

function storeInteger(kind: FieldKind, to: usize, value: i64): void {
  switch (kind) {
    case FieldKind.Unsigned8:
    case FieldKind.Signed8:
      store<u8>(to, u8(value));
      return;
    case FieldKind.Unsigned16:
    case FieldKind.Signed16:
      store<u16>(to, u16(value));
      return;
    case FieldKind.Unsigned32:
    case FieldKind.Signed32:
      store<u32>(to, u32(value));
      return;
    default:
      store<i64>(to, value);
  }
}

/** Writes a record as the line that the writer holds. */
export function writeRecord(type: i32, from: usize, id: i32): void {
  beginLine(wordsOf(MESSAGE_TYPE_CHOICE), type, id);
  const count = fieldCount(type);
  for (let index = 0; index < count; index++) {
    const field = fieldAt(type, index);
    putField(field, from + load<u8>(field, 1));
  }
  endLine();
}

function putField(field: usize, at: usize): void {
  const kind: FieldKind = load<u8>(field);
  switch (kind) {
    case FieldKind.Flag:
      putFlag(load<u8>(at) != 0);
      return;
    case FieldKind.Choice:
      putChoice(wordsOf(load<u8>(field, 2)), load<u8>(at));
      return;
    case FieldKind.Hex8:
      putHex(load<u32>(at), 8);
      return;
    case FieldKind.Hex16:
      putHex(load<u64>(at), 16);
      return;
    case FieldKind.Text:
    case FieldKind.Name:
      putText(at);
      return;
    default:
      putInteger(loadInteger(kind, at));
  }
}

function loadInteger(kind: FieldKind, at: usize): i64 {
  switch (kind) {
    case FieldKind.Unsigned8:
      return load<u8>(at);
    case FieldKind.Unsigned16:
      return load<u16>(at);
    case FieldKind.Unsigned32:
      return load<u32>(at);
    case FieldKind.Signed8:
      return load<i8>(at);
    case FieldKind.Signed16:
      return load<i16>(at);
    case FieldKind.Signed32:
      return load<i32>(at);
    default:
      return load<i64>(at);
  }
}
