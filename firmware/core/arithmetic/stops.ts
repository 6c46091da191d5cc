/**
 * Exposure in stops: time(n) = base x 2^(n/120), exact for every base and offset allowed, rounded half up once,
 * at the end. Whole numbers throughout, so the chip and the laptop agree to the last millisecond.
 */
import { LONGEST_DOSE_MS, OFFSET_STOPS120, STOP_PARTS } from '../generated/constants';
import { POWERS_OF_TWO } from './powers-of-two';

/** What the functions here answer where no dose can: above the limit, below 1 ms, or offset out of range. */
export const NO_DOSE: i32 = -1;

/** `baseMs` (1..limit) changed by `stops120` (-1200..1200); NO_DOSE if that is below 1 ms or above the limit. */
export function timeAtStopsMs(baseMs: i32, stops120: i32): i32 {
  return timeAtFineStopsMs(baseMs, stops120, 0);
}

/** The same with the fine part of the offset beside it, -12,500..12,500 of 1/3,000,000 stop. */
export function timeAtFineStopsMs(baseMs: i32, stops120: i32, fine3M: i32): i32 {
  if (!isBase(baseMs) || !isOffset(stops120)) return NO_DOSE;
  return orNoDose(roundedTimes(baseMs, stops120, fine3M));
}

/** What a burn of `stops120` (1..1200) adds: base x (2^(n/120) - 1), rounded half up; NO_DOSE as above. */
export function burnMs(baseMs: i32, stops120: i32, fine3M: i32): i32 {
  if (!isBase(baseMs) || !isOffset(stops120) || stops120 <= 0) return NO_DOSE;
  // The base is whole, so taking it away after rounding is the same as before.
  return orNoDose(roundedTimes(baseMs, stops120, fine3M) - baseMs);
}

/** What a dodge of `stops120` (1..1200) holds back: base x (1 - 2^(-n/120)), rounded half up; NO_DOSE as above. */
export function dodgeMs(baseMs: i32, stops120: i32, fine3M: i32): i32 {
  if (!isBase(baseMs) || !isOffset(stops120) || stops120 <= 0) return NO_DOSE;
  // What is held back rounds half up, so what is left must round half down.
  return orNoDose(baseMs - halfDownTimes(baseMs, -stops120, -fine3M));
}

/** log2(to / from) in 1/120 stop, to the nearest; 0 unless both are 1 ms or more. */
export function stopsBetween120(fromMs: i32, toMs: i32): i32 {
  return stopsBetween(fromMs, toMs, STOP_PARTS);
}

/** log2(to / from) in parts of a stop, likewise; at most 3,000,000 of them. */
export function stopsBetween(fromMs: i32, toMs: i32, partsInStop: i32): i32 {
  const half = (<i64>1) << 31;
  return <i32>((log2Ratio(fromMs, toMs) * partsInStop + half) >> 32);
}

function isBase(baseMs: i32): bool {
  // Below zero is above it; of 0 ms comes no dose by itself.
  return <u32>baseMs <= <u32>LONGEST_DOSE_MS;
}

function isOffset(stops120: i32): bool {
  return stops120 >= -OFFSET_STOPS120 && stops120 <= OFFSET_STOPS120;
}

function orNoDose(doseMs: i64): i32 {
  return doseMs < 1 || doseMs > LONGEST_DOSE_MS ? NO_DOSE : <i32>doseMs;
}

/**
 * base x 2^(n/120) with `fractionBits(n)` bits after the point; of the whole product the lowest 32 bits are left
 * out. No base comes so near to a half millisecond that this, or the table's own last bit, could tell.
 */
function product(baseMs: i32, stops120: i32): u64 {
  const entry = POWERS_OF_TWO + ((<usize>(stops120 - octaves(stops120) * STOP_PARTS)) << 3);
  const low = <u64>baseMs * <u64>load<u32>(entry);
  return <u64>baseMs * <u64>load<u32>(entry, 4) + (low >> 32);
}

/** n / 120 rounded down, also below zero. */
function octaves(stops120: i32): i32 {
  return (stops120 + OFFSET_STOPS120) / STOP_PARTS - OFFSET_STOPS120 / STOP_PARTS;
}

function fractionBits(stops120: i32): u64 {
  return 31 - octaves(stops120);
}

/** ln 2 / 3,000,000 with 64 fraction bits. */
const LN2_FINE: i64 = 4262102881734;

/**
 * `product` x 2^(fine / 3,000,000), by e^x up to its fourth power: what is left out, and what is lost below 39 fraction
 * bits, is less than 2^-37 of it. Nothing changes where there is no fine part.
 */
function refined(product: u64, fine3M: i32): u64 {
  const x = (i64(fine3M) * LN2_FINE) >> 25;
  let more = x + ((x * x) >> 41);
  more = x + ((x * more) >> 39) / 3;
  more = x + ((x * more) >> 40);
  return product + ((i64(product >> 23) * more) >> 16) + ((i64(product & 0x7f_ffff) * more) >> 39);
}

function roundedTimes(baseMs: i32, stops120: i32, fine3M: i32): i64 {
  const bits = fractionBits(stops120);
  return <i64>((refined(product(baseMs, stops120), fine3M) + ((<u64>1) << (bits - 1))) >> bits);
}

function halfDownTimes(baseMs: i32, stops120: i32, fine3M: i32): i64 {
  const bits = fractionBits(stops120);
  return <i64>((refined(product(baseMs, stops120), fine3M) + ((<u64>1) << (bits - 1)) - 1) >> bits);
}

/** log2(to / from) with 32 fraction bits; the last two or three of them may be short. */
function log2Ratio(fromMs: i32, toMs: i32): i64 {
  const fromShift = clz(fromMs);
  const toShift = clz(toMs);
  let octave = fromShift - toShift;
  const from = <u64>((<u32>fromMs) << fromShift);
  const to = <u64>((<u32>toMs) << toShift);
  if (to < from) octave -= 1;
  return ((<i64>octave) << 32) + <i64>log2Fraction((to << (to < from ? 32 : 31)) / from);
}

/** log2 of a number from 1 up to 2 with 31 fraction bits: each squaring yields the next bit of the answer. */
function log2Fraction(mantissa: u64): u64 {
  let fraction: u64 = 0;
  for (let bit = 0; bit < 32; bit += 1) {
    mantissa = (mantissa * mantissa) >> 31;
    const above = mantissa >> 32;
    mantissa >>= above;
    fraction = (fraction << 1) | above;
  }
  return fraction;
}
