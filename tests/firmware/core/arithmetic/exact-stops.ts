/**
 * The definition time(n) = base x 2^(n/120) in whole numbers without end, for checking the core's fixed point.
 * No logarithm, no rounding: t <= base x 2^(n/120) exactly when t^120 <= base^120 x 2^n.
 */
const PARTS = 120n;

/** Whether `doseMs` is base x 2^(n/120) rounded half up: |dose - exact| <= 1/2, with a tie going up. */
export function isTimeRoundedHalfUp(doseMs: number, baseMs: number, stops120: number): boolean {
  return !exceeds(2 * doseMs - 1, 2 * baseMs, stops120) && exceeds(2 * doseMs + 1, 2 * baseMs, stops120);
}

/** Whether time > base x 2^(n/120). */
function exceeds(time: number, base: number, stops120: number): boolean {
  const left = BigInt(time) ** PARTS * 2n ** BigInt(Math.max(0, -stops120));
  return left > BigInt(base) ** PARTS * 2n ** BigInt(Math.max(0, stops120));
}

/** floor(2^(63 + k/120)) for k = 0..119: the largest x with x^120 <= 2^(63 x 120 + k). */
export function powerOfTwoQ63(k: number): bigint {
  const target = 2n ** (63n * PARTS + BigInt(k));
  let low = 2n ** 63n;
  let high = 2n ** 64n;
  while (high - low > 1n) {
    const middle = (low + high) / 2n;
    if (middle ** PARTS <= target) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * The smallest x >= 0 with low <= (factor * x mod modulus) <= high, or undefined if there is none; by Euclid's
 * steps, so it looks at millions of bases in a few dozen.
 */
export function firstHit(factor: bigint, modulus: bigint, low: bigint, high: bigint): bigint | undefined {
  if (low === 0n) return 0n;
  const step = factor % modulus;
  if (step === 0n) return undefined;
  if (2n * step > modulus) return firstHit(modulus - step, modulus, modulus - high, modulus - low);
  const straight = (low + step - 1n) / step;
  if (straight * step <= high) return straight;
  const turns = firstHit((step - (modulus % step)) % step, step, low % step, high % step);
  return turns === undefined ? undefined : (low + modulus * turns + step - 1n) / step;
}
