/**
 * Relay-on time is not exposure. The lamp lights `delay` after its relay, rises with a time constant `rise` and
 * falls with `fall`; with t = on - delay its dose, in time of full light, is
 *
 *     dose(on) = t - (rise - fall) x (1 - e^(-t/rise)),   0 for t <= 0
 *
 * which tends to on - lag. Two figures can be measured, lag and rise, and settle the rest:
 * delay = max(0, lag - rise), fall = rise + delay - lag. While the lamp is still on it has so far given
 *
 *     light(on) = t - rise x (1 - e^(-t/rise))
 *
 * the glow after switching off being still to come. No lamp is quite first-order: see `minimumDoseMs`.
 *
 * A lamp that is switched on while it glows begins at a brightness w, its warmth. There is a glow only where the fall
 * is above zero, and then the delay is zero. Solving the same two equations from w on (own derivation, checked by
 * numerical integration in the tests),
 *
 *     light(on) = t - rise x (1 - w) x (1 - e^(-t/rise))
 *
 * The dose of the pulse before counted all of its glow, of which fall x w had not come yet; without that, which is
 * not given twice,
 *
 *     dose(on) = t - (rise - fall) x (1 - w) x (1 - e^(-t/rise))
 *
 * Doses and on-times are whole microseconds. Floating point is IEEE on the chip and in Node alike.
 */

export const LAG_LEAST_MS: i32 = -500;
export const LAG_LIMIT_MS: i32 = 1000;
export const RISE_LIMIT_MS: i32 = 1000;

/** Shortest time that a relay's own scatter (up to 10 ms at either end) lets anybody depend on. */
const LEAST_LIT_US: u32 = 40_000;
/** After so many rises e^(-t/rise) is below 10^-17, so the exponential is left out. */
const SETTLED_RISES: f64 = 40;

let delayUs: u32 = 0;
let riseUs: f64 = 0;
/** rise - fall: what a long pulse falls short of the time that the lamp was lit. */
let shortfallUs: f64 = 0;

/** The warmth of a lamp that has been off for long. */
export const COLD: f64 = 0;
/** What less of it changes is below a microsecond. */
const LEAST_WARMTH: f64 = 1e-7;

/**
 * Takes a lamp's measured `lagMs` (-500..1000) and `riseMs` (0..1000); false, and nothing changed, beyond those.
 * A lag below zero is an afterglow that outweighs the rise, which a rise of 0 cannot have: it counts as 1 ms.
 */
export function setLamp(lagMs: i32, riseMs: i32): bool {
  if (lagMs < LAG_LEAST_MS || lagMs > LAG_LIMIT_MS || riseMs < 0 || riseMs > RISE_LIMIT_MS) return false;
  if (lagMs < 0 && riseMs == 0) riseMs = 1;
  const delayMs = max(0, lagMs - riseMs);
  delayUs = <u32>delayMs * 1000;
  riseUs = <f64>riseMs * 1000;
  shortfallUs = <f64>(lagMs - delayMs) * 1000;
  return true;
}

/** The dose, in microseconds of full light, of a pulse of `onUs` of a cold lamp, with its afterglow. */
export function doseUs(onUs: u32): u32 {
  return warmDoseUs(onUs, COLD);
}

/** The shortest pulse of a cold lamp that gives `wantedUs`; never shorter for a larger dose. 0 for none. */
export function onUsForDose(wantedUs: u32): u32 {
  return warmOnUsForDose(wantedUs, COLD);
}

/** The dose of a pulse that begins at `warmth`, beside what the pulse before counted as its own. */
export function warmDoseUs(onUs: u32, warmth: f64): u32 {
  return <u32>(exactDoseUs(onUs, shortfallUs * (1 - warmth)) + 0.5);
}

export function warmOnUsForDose(wantedUs: u32, warmth: f64): u32 {
  return shortestOnUs(wantedUs, shortfallUs * (1 - warmth));
}

/** The time after switching on at `warmth` at which a lamp that stays on has given `wantedUs`. */
export function onUsForLight(wantedUs: u32, warmth: f64): u32 {
  return shortestOnUs(wantedUs, riseUs * (1 - warmth));
}

/** How bright a lamp that was switched on at `warmth` is after `onUs`, 0 to 1. */
export function brightnessAfter(onUs: u32, warmth: f64): f64 {
  if (onUs <= delayUs) return warmth;
  return 1 - (1 - warmth) * leftToRise(<f64>(onUs - delayUs));
}

/** The light that a lamp of `warmth` would still give if it stayed off. */
export function glowUs(warmth: f64): u32 {
  return <u32>(fallUs() * warmth + 0.5);
}

function fallUs(): f64 {
  return riseUs - shortfallUs;
}

/** What is left of a `brightness` when the lamp has been off for `offUs`; COLD where that no longer matters. */
export function warmthAfter(offUs: i64, brightness: f64): f64 {
  const fall = fallUs();
  if (fall <= 0) return COLD;
  const warmth = brightness * Math.exp(-(<f64>offUs) / fall);
  return warmth < LEAST_WARMTH ? COLD : warmth;
}

/**
 * The smallest dose to depend on: lit for two rises, when the lamp is at 86 per cent and what it gave no longer
 * hangs on how its light began, and for 40 ms, so that a relay's scatter stays small beside it.
 */
export function minimumDoseMs(): i32 {
  const litUs = max(LEAST_LIT_US, <u32>(riseUs * 2));
  return <i32>((doseUs(delayUs + litUs) + 999) / 1000);
}

function exactDoseUs(onUs: u32, shortfallUs: f64): f64 {
  if (onUs <= delayUs) return 0;
  const litUs = <f64>(onUs - delayUs);
  return litUs - shortfallUs * (1 - leftToRise(litUs));
}

/** e^(-t/rise): what a cold lamp that is lit for `litUs` still lacks of its full brightness. */
function leftToRise(litUs: f64): f64 {
  return litUs > SETTLED_RISES * riseUs ? 0 : Math.exp(-litUs / riseUs);
}

/** Bisection over whole microseconds: the dose lies within `shortfallUs` of the lit time, on one side of it. */
function shortestOnUs(wantedUs: u32, shortfallUs: f64): u32 {
  if (wantedUs == 0) return 0;
  const wanted = <f64>wantedUs - 0.5;
  let tooShortUs = mostTooShortUs(wantedUs, shortfallUs);
  let longEnoughUs = leastLongEnoughUs(wantedUs, shortfallUs);
  while (longEnoughUs - tooShortUs > 1) {
    const middleUs = tooShortUs + (longEnoughUs - tooShortUs) / 2;
    if (exactDoseUs(middleUs, shortfallUs) >= wanted) longEnoughUs = middleUs;
    else tooShortUs = middleUs;
  }
  return longEnoughUs;
}

function mostTooShortUs(wantedUs: u32, shortfallUs: f64): u32 {
  return delayUs + <u32>max<f64>(0, <f64>wantedUs + min<f64>(0, shortfallUs) - 1);
}

function leastLongEnoughUs(wantedUs: u32, shortfallUs: f64): u32 {
  return delayUs + wantedUs + <u32>max<f64>(0, shortfallUs);
}

/** How long each of `pulses` must be that give `wantedUs` together, the next one `gapUs` after the end of each. */
export function onUsForPulses(wantedUs: u32, pulses: i32, gapUs: i64): u32 {
  const glowLeft = warmthAfter(gapUs, 1);
  const eachUs = wantedUs / pulses;
  let tooShortUs = mostTooShortUs(eachUs, shortfallUs);
  let longEnoughUs = leastLongEnoughUs(eachUs + 1, shortfallUs);
  while (longEnoughUs - tooShortUs > 1) {
    const middleUs = tooShortUs + (longEnoughUs - tooShortUs) / 2;
    if (exactPulsesUs(middleUs, pulses, glowLeft) >= <f64>wantedUs) longEnoughUs = middleUs;
    else tooShortUs = middleUs;
  }
  return longEnoughUs;
}

/** The first begins cold, each of the others with `glowLeft` of the brightness that the one before ended with. */
function exactPulsesUs(onUs: u32, pulses: i32, glowLeft: f64): f64 {
  if (onUs <= delayUs) return 0;
  const litUs = <f64>(onUs - delayUs);
  const left = leftToRise(litUs);
  let warmth = COLD;
  let doseUs: f64 = 0;
  for (let pulse = 0; pulse < pulses; pulse++) {
    doseUs += litUs - shortfallUs * (1 - warmth) * (1 - left);
    warmth = glowLeft * (1 - (1 - warmth) * left);
  }
  return doseUs;
}
