/** The one way in which a request is refused, whatever the reason. */
import { error, writeError } from '../generated/codec';
import { ErrorCode, errorText } from '../generated/constants';
import { badField, badFieldHigh, badFieldLow } from './line-reader';
import { setText } from './texts';

export let refusals: u32 = 0;

/** Writes an error line; `why` empty takes the schema's sentence for the code. */
export function writeRefusal(id: i32, code: ErrorCode, why: string): void {
  writeFieldRefusal(id, code, why, 0, 0, 0);
}

/** Writes an error line that names field `field` (from 1) and its range. */
export function writeFieldRefusal(
  id: i32,
  code: ErrorCode,
  why: string,
  field: i32,
  low: i32,
  high: i32,
): void {
  refusals++;
  error.code = u8(code);
  setText(error.text, why.length > 0 ? why : errorText(code));
  error.field = u8(field);
  error.low = low;
  error.high = high;
  writeError(error, id);
}

/** Writes an error line about the field that the reader stumbled over. */
export function writeReaderRefusal(id: i32): void {
  writeFieldRefusal(id, ErrorCode.BadField, '', badField, saturate(badFieldLow), saturate(badFieldHigh));
}

function saturate(value: i64): i32 {
  return i32(min(max(value, i64(i32.MIN_VALUE)), i64(i32.MAX_VALUE)));
}
