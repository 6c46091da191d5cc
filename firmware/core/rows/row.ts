/** The panel's rows: text is put into a row from the left, and only rows that changed are shown. */
import { showLine } from '../board';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../generated/constants';
import { readUtf8, utf8Length } from '../protocol/characters';
import { noticeShown } from '../protocol/notices';
import { plainLetter } from './plain-letters';

const BLANK: u8 = 0x20;
/** All dots of a cell, by the display's own table of characters; no letter of a text. */
export const ALL_DOTS: u8 = 0xff;
const PANEL_BYTES: i32 = DISPLAY_COLUMNS * DISPLAY_ROWS;
const rows: usize = memory.data(PANEL_BYTES);
const shown: usize = memory.data(PANEL_BYTES);

let at: usize = 0;
let end: usize = 0;

/** After power-up the display is blank; the rows are begun before they are shown. */
export function clearPanel(): void {
  memory.fill(shown, BLANK, PANEL_BYTES);
}

/** Starts row `index` (0..3) anew; what does not fit is cut off. */
export function beginRow(index: i32): void {
  at = rows + index * DISPLAY_COLUMNS;
  end = at + DISPLAY_COLUMNS;
  memory.fill(at, BLANK, DISPLAY_COLUMNS);
}

/** Every dot of row `index`. */
export function fillRow(index: i32): void {
  memory.fill(rows + index * DISPLAY_COLUMNS, ALL_DOTS, DISPLAY_COLUMNS);
}

export function columnsLeft(): i32 {
  return i32(end - at);
}

export function putByte(byte: u8): void {
  if (at < end) store<u8>(at++, byte);
}

/** The core's own words, from `ascii`. */
export function put(words: usize): void {
  const wordsEnd = words + 1 + load<u8>(words);
  for (let place = words + 1; place < wordsEnd; place++) putByte(load<u8>(place));
}

/** A text that people wrote: a length byte, then UTF-8. */
export function putText(text: usize): void {
  const textEnd = text + 1 + load<u8>(text);
  for (let place = text + 1; place < textEnd; ) {
    const point = readUtf8(place);
    place += utf8Length(point);
    const letter = plainLetter(point);
    if (letter != 0) putByte(letter);
  }
}

/** How many columns a text takes. */
export function columnsOf(text: usize): i32 {
  const textEnd = text + 1 + load<u8>(text);
  let columns = 0;
  for (let place = text + 1; place < textEnd; ) {
    const point = readUtf8(place);
    place += utf8Length(point);
    if (plainLetter(point) != 0) columns++;
  }
  return columns;
}

export function putNumber(value: i32): void {
  if (value < 0) putByte(0x2d);
  let rest = abs(value);
  let unit = 1;
  while (rest / unit >= 10) unit *= 10;
  for (; unit > 0; unit /= 10) {
    putByte(u8(0x30 + rest / unit));
    rest %= unit;
  }
}

/** What was put since `from` (columnsLeft then) moves to the row's right edge, and is the last of the row. */
export function alignRight(from: i32): void {
  const length = from - columnsLeft();
  const start = end - from;
  memory.copy(end - length, start, length);
  memory.fill(start, BLANK, from - length);
}

/** Shows the rows that are not what the display shows. */
export function showRows(): void {
  for (let index = 0; index < DISPLAY_ROWS; index++) showRow(index);
}

function showRow(index: i32): void {
  const row = rows + index * DISPLAY_COLUMNS;
  const before = shown + index * DISPLAY_COLUMNS;
  if (memory.compare(row, before, DISPLAY_COLUMNS) == 0) return;
  memory.copy(before, row, DISPLAY_COLUMNS);
  let length = DISPLAY_COLUMNS;
  while (length > 0 && load<u8>(row + length - 1) == BLANK) length--;
  showLine(index, row, length);
  noticeShown(index, row, length);
}
