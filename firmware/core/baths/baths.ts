/**
 * The baths, in their order: what each is called, how long paper stays in it, and what has gone through it since it
 * was mixed. They lie in memory as the codec's `bath` records, and so on the shelf.
 */
import { BATH_BYTES, Bath } from '../generated/codec';
import { BATHS, SettingName, USUAL_BATHS, USUAL_BATHS_COUNT } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { DocumentKind, readWhole } from '../storage/shelf';

export const BATH_ROW_BYTES: i32 = BATHS * BATH_BYTES;
export const bathRow: usize = memory.data(BATH_ROW_BYTES, 8);
/** The name (a text) under which the shelf keeps them. */
export const bathsName: usize = memory.data<u8>([5, 0x62, 0x61, 0x74, 0x68, 0x73]);

/** After power-up: the row on the shelf, or the usual one. */
export function openBaths(): void {
  readWhole(DocumentKind.Baths, bathsName, bathRow, BATH_ROW_BYTES);
  if (bathCount() == 0) memory.copy(bathRow, USUAL_BATHS, USUAL_BATHS_COUNT * BATH_BYTES);
}

/** Bath `index` from 0. */
export function bathAt(row: usize, index: i32): Bath {
  return changetype<Bath>(row + index * BATH_BYTES);
}

export function bathCount(): i32 {
  return min(BATHS, i32(bathAt(bathRow, 0).baths));
}

/** What the shelf has to keep of the row. */
export function bathRowLength(row: usize): i32 {
  return min(BATHS, i32(bathAt(row, 0).baths)) * BATH_BYTES;
}

/** How long the paper in use stays in bath `index` by the row, draining included; 0 when it does not go in. */
export function rowSeconds(index: i32): i32 {
  const bath = bathAt(bathRow, index);
  return settingValue(SettingName.FibrePaper) != 0 ? bath.fibreSeconds : bath.resinCoatedSeconds;
}

/** The next bath after `index` that the paper in use goes into, -1 at the end. */
export function bathAfter(index: i32): i32 {
  for (let next = index + 1; next < bathCount(); next++) if (rowSeconds(next) != 0) return next;
  return -1;
}

/** The bath `clicks` further in the row of those that the paper in use goes into, or the last one that way. */
export function bathFrom(index: i32, clicks: i32): i32 {
  const step = clicks < 0 ? -1 : 1;
  for (let left = abs(clicks); left > 0; left--) {
    let next = index + step;
    while (next >= 0 && next < bathCount() && rowSeconds(next) == 0) next += step;
    if (next < 0 || next >= bathCount()) break;
    index = next;
  }
  return index;
}

/** The area of `sheets` sheets in cm2. */
export function areaCm2(sheets: i32): u32 {
  return u32(sheets * settingValue(SettingName.SheetCm2));
}

/** Bath `index` has had as much as its limit allows, or would have with `sheets` more. */
export function isSpent(index: i32, sheets: i32): bool {
  const bath = bathAt(bathRow, index);
  return bath.limitCm2 != 0 && u64(bath.areaCm2) + areaCm2(sheets) > bath.limitCm2;
}

/** `sheets` sheets have gone through bath `index`. */
export function countThrough(index: i32, sheets: i32): void {
  const bath = bathAt(bathRow, index);
  bath.sheets = u16(min(0xffff, i32(bath.sheets) + sheets));
  bath.areaCm2 = u32(min<u64>(u32.MAX_VALUE, u64(bath.areaCm2) + areaCm2(sheets)));
}

/** What is counted as gone through starts from these: nothing when the bath is mixed. */
export function setCount(bath: Bath, sheets: i32, area: u32): void {
  bath.sheets = u16(sheets);
  bath.areaCm2 = area;
}
