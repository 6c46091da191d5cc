/** The one way in which a request is refused, whatever the reason. */
import { error, writeError } from '../generated/codec';
import { ErrorCode, errorText, STORAGE_FORMAT } from '../generated/constants';
import { storedFormat } from '../storage/format-mark';
import { badField, badFieldHigh, badFieldLow } from './line-reader';
import { addNumber, addText, beginText, endText } from './line-writer';
import { ascii, copyText } from './texts';

/** Takes the schema's sentence for the code. */
export const NO_WORDS: usize = 0;

/** A sheet, a reading, a question, a bath or the checkup. */
export const NOT_AT_REST: usize = ascii('something is under way: finish it, or hold to go back');

export let refusals: u32 = 0;

/** Writes an error line; `why` is a text, or `NO_WORDS`. */
export function writeRefusal(id: i32, code: ErrorCode, why: usize): void {
  writeFieldRefusal(id, code, why, 0, 0, 0);
}

/** Writes an error line that names field `field` (from 1) and its range. */
export function writeFieldRefusal(
  id: i32,
  code: ErrorCode,
  why: usize,
  field: i32,
  low: i32,
  high: i32,
): void {
  refusals++;
  error.code = u8(code);
  copyText(error.text, why == NO_WORDS ? errorText(code) : why);
  error.field = u8(field);
  error.low = low;
  error.high = high;
  writeError(error, id);
}

/** Names the format of the flash and the one that this firmware knows. */
export function foreignFormatWords(): usize {
  beginText();
  addText(ascii('flash format '));
  addNumber(storedFormat);
  addText(ascii(', '));
  addText(ascii('firmware knows '));
  addNumber(STORAGE_FORMAT);
  addText(ascii(': '));
  addText(ascii('update the firmware'));
  return endText();
}

/** Writes an error line about the field that the reader stumbled over. */
export function writeReaderRefusal(id: i32): void {
  const low = i32(badFieldLow);
  const high = i32(badFieldHigh);
  if (low == badFieldLow && high == badFieldHigh)
    writeFieldRefusal(id, ErrorCode.BadField, NO_WORDS, badField, low, high);
  else writeFieldRefusal(id, ErrorCode.BadField, wideRangeWords(), badField, 0, 0);
}

/** A range that the error's own numbers are too narrow for. */
function wideRangeWords(): usize {
  beginText();
  addText(ascii('allowed is '));
  addNumber(badFieldLow);
  addText(ascii(' to '));
  addNumber(badFieldHigh);
  return endText();
}
