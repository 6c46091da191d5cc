/** The filter of a light, at the right edge of the row of its seconds. */
import { ascii } from '../protocol/texts';
import { alignRight, columnsLeft, columnsOf, put, putByte, putText } from './row';

/** Of the word, and the space behind it. */
const WORD_COLUMNS: i32 = 7;

/** With the word where there is room for it; nothing where none is named (a text). */
export function drawFilter(filter: usize): void {
  if (load<u8>(filter) == 0) return;
  putByte(0x20);
  const from = columnsLeft();
  if (columnsOf(filter) + WORD_COLUMNS <= from) put(ascii('filter '));
  putText(filter);
  alignRight(from);
}
