/**
 * Times of baths by the tray's temperature, as the printer read them off a data sheet: at least two to a bath, known by
 * its label. Between two of them the time's logarithm is linear in the temperature (common practice of development
 * charts, no source); outside them there is no time. They lie in memory as the codec's `bath-point` records.
 */
import { BATH_POINT_BYTES, BathPoint } from '../generated/codec';
import { BATH_POINTS, SettingName } from '../generated/constants';
import { sameText } from '../protocol/texts';
import { settingValue } from '../settings/settings';
import { DocumentKind, readWhole } from '../storage/shelf';
import { bathAt, bathRow } from './baths';

export const POINT_ROW_BYTES: i32 = BATH_POINTS * BATH_POINT_BYTES;
export const pointRow: usize = memory.data(POINT_ROW_BYTES, 8);
/** The name (a text) under which the shelf keeps them. */
export const pointsName: usize = memory.data<u8>([6, 0x70, 0x6f, 0x69, 0x6e, 0x74, 0x73]);

/** After power-up. */
export function openPoints(): void {
  readWhole(DocumentKind.Points, pointsName, pointRow, POINT_ROW_BYTES);
}

export function clearPoints(): void {
  memory.fill(pointRow, 0, POINT_ROW_BYTES);
}

/** Point `index` from 0. */
export function pointAt(row: usize, index: i32): BathPoint {
  return changetype<BathPoint>(row + index * BATH_POINT_BYTES);
}

export function pointCount(): i32 {
  return min(BATH_POINTS, i32(pointAt(pointRow, 0).points));
}

/** What the shelf has to keep of the row. */
export function pointRowLength(row: usize): i32 {
  return min(BATH_POINTS, i32(pointAt(row, 0).points)) * BATH_POINT_BYTES;
}

/** The tray's temperature in tenths of a degree Celsius; 0 when nobody measured it. */
export function trayC10(): i32 {
  return settingValue(SettingName.TrayC10);
}

function pointSeconds(point: BathPoint): i32 {
  return settingValue(SettingName.FibrePaper) != 0 ? point.fibreSeconds : point.resinCoatedSeconds;
}

/** Of bath `bath`, from 0, for the paper in use: the nearest point that is not above `c10`, or not below it; -1 for none. */
function nearestPoint(bath: i32, c10: i32, isBelow: bool): i32 {
  let nearest = -1;
  for (let index = 0; index < pointCount(); index++) {
    const point = pointAt(pointRow, index);
    if (!sameText(point.label, bathAt(bathRow, bath).label) || pointSeconds(point) == 0) continue;
    const at = i32(point.trayC10);
    if (isBelow ? at > c10 : at < c10) continue;
    const best = nearest < 0 ? at : i32(pointAt(pointRow, nearest).trayC10);
    if (nearest < 0 || (isBelow ? at > best : at < best)) nearest = index;
  }
  return nearest;
}

/** The coldest and the warmest that the bath has a time for, in tenths of a degree; 0 where it has none. */
export function coldestC10(bath: i32): i32 {
  const index = nearestPoint(bath, 0, false);
  return index < 0 ? 0 : i32(pointAt(pointRow, index).trayC10);
}

export function warmestC10(bath: i32): i32 {
  const index = nearestPoint(bath, i32.MAX_VALUE, true);
  return index < 0 ? 0 : i32(pointAt(pointRow, index).trayC10);
}

export function hasPoints(bath: i32): bool {
  return coldestC10(bath) != warmestC10(bath);
}

/** The time goes by the temperature. */
export function isByTemperature(bath: i32): bool {
  return trayC10() != 0 && hasPoints(bath);
}

/** It does, and the data sheet says nothing of a temperature like that. */
export function isOutsidePoints(bath: i32): bool {
  return isByTemperature(bath) && (trayC10() < coldestC10(bath) || trayC10() > warmestC10(bath));
}

/** Only where it is by temperature, and not outside: to the nearest second. */
export function secondsByTemperature(bath: i32): i32 {
  const below = pointAt(pointRow, nearestPoint(bath, trayC10(), true));
  const above = pointAt(pointRow, nearestPoint(bath, trayC10(), false));
  const width = i32(above.trayC10) - i32(below.trayC10);
  return secondsBetween(pointSeconds(below), pointSeconds(above), trayC10() - i32(below.trayC10), width);
}

/**
 * from x (to / from)^(part / width), by the binary digits of the exponent: each is another square root. That needs no
 * logarithm, and IEEE has a square root to the last bit on every home.
 */
export function secondsBetween(from: i32, to: i32, part: i32, width: i32): i32 {
  if (part == 0) return from;
  if (part == width) return to;
  let seconds = <f64>from;
  let root = <f64>to / <f64>from;
  let rest = part;
  for (let digit = 0; digit < EXPONENT_DIGITS; digit++) {
    root = Math.sqrt(root);
    rest <<= 1;
    if (rest < width) continue;
    rest -= width;
    seconds *= root;
  }
  return <i32>(seconds + 0.5);
}

/** Below a millionth of a second of the longest bath. */
const EXPONENT_DIGITS: i32 = 40;
