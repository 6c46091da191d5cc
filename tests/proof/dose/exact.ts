/**
 * What is irrational in the trade's arithmetic, between two whole numbers that differ in their last bits: 2^(n/120) and
 * e^-x, as decimal.js works them out. All that is done with them is whole-number arithmetic, so nothing else rounds.
 */
import { Decimal } from 'decimal.js';
import { limits } from '../../../shared-protocol/limits.js';

/** Numbers here are whole multiples of 2^-128. */
const FRACTION_BITS = 128n;
const ONE = 1n << FRACTION_BITS;
const DIGITS = 60;
const Precise = Decimal.clone({ precision: DIGITS, rounding: Decimal.ROUND_FLOOR });
const SCALE = new Precise(2).pow(Number(FRACTION_BITS));

/** The true value lies between them, at either end at most. */
export interface Between {
  readonly low: bigint;
  readonly high: bigint;
}

export const exactly = (whole: bigint | number): Between => ({
  low: BigInt(whole) << FRACTION_BITS,
  high: BigInt(whole) << FRACTION_BITS,
});
export const sum = (one: Between, other: Between): Between => ({
  low: one.low + other.low,
  high: one.high + other.high,
});
export const difference = (one: Between, other: Between): Between => ({
  low: one.low - other.high,
  high: one.high - other.low,
});
/** `factor` is not below zero. */
export const times = ({ low, high }: Between, factor: bigint): Between => ({
  low: low * factor,
  high: high * factor,
});
const product = (one: Between, other: Between): Between => ({
  low: (one.low * other.low) >> FRACTION_BITS,
  high: ((one.high * other.high) >> FRACTION_BITS) + 1n,
});
/** The farthest from zero that it may be. */
export const most = ({ low, high }: Between): bigint => (-low > high ? -low : high);
/** For showing; judge by the whole numbers. */
export const asNumber = (value: bigint): number => Number(value) / Number(ONE);

function around(value: Decimal): Between {
  const low = BigInt(value.times(SCALE).floor().toFixed()) - 1n;
  return { low, high: low + 3n };
}

const PARTS = limits.stopParts;
let powers: Between[] | undefined;

/** 2^(n/120), n from -1200 to 1200. */
export function powerOfTwo(stops120: number): Between {
  powers ??= Array.from({ length: PARTS }, (_, part) => provenRoot(part));
  const octaves = Math.floor(stops120 / PARTS);
  const { low, high } = powers[stops120 - octaves * PARTS]!;
  if (octaves >= 0) return { low: low << BigInt(octaves), high: high << BigInt(octaves) };
  return { low: low >> BigInt(-octaves), high: (high >> BigInt(-octaves)) + 1n };
}

/** By the definition, in whole numbers without end: x <= 2^(part/120) exactly when x^120 <= 2^part. */
function provenRoot(part: number): Between {
  const root = around(new Precise(2).pow(new Precise(part).div(PARTS)));
  const target = 1n << (FRACTION_BITS * BigInt(PARTS) + BigInt(part));
  if (root.low ** BigInt(PARTS) > target || root.high ** BigInt(PARTS) < target)
    throw new Error(`2^(${part}/${PARTS}) does not lie where decimal.js has it`);
  return root;
}

/** e^(-1/rise), and what it becomes by squaring: a time's own is made of those of its binary digits. */
const steps = new Map<number, Between[]>();
const LONGEST_BITS = 28;

/** e^(-litUs / riseUs). */
export function leftToRise(litUs: number, riseUs: number): Between {
  // e^-88.8 is below 2^-128.
  if (litUs > 89 * riseUs) return { low: 0n, high: 1n };
  const squares = steps.get(riseUs) ?? squaresOf(riseUs);
  steps.set(riseUs, squares);
  let left = exactly(1);
  for (let bit = 0; bit < LONGEST_BITS; bit++) if ((litUs >> bit) & 1) left = product(left, squares[bit]!);
  return left;
}

function squaresOf(riseUs: number): Between[] {
  const squares = [around(new Precise(-1).div(riseUs).exp())];
  while (squares.length < LONGEST_BITS) squares.push(product(squares.at(-1)!, squares.at(-1)!));
  return squares;
}
