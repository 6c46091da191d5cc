import type { StripReading } from './read-strip.js';
import type { Interval } from './strip-figures.js';
import type { StripScan } from './strip-scan.js';

export interface ToldReading {
  readonly reading: StripReading;
  /** The time that was taken for right in the dark, where the log has one. */
  readonly strip: { readonly chosenMs?: number | undefined };
  readonly device: 'flatbed' | 'phone';
  readonly colour: StripScan['colour'];
}

/** What scripts read: times in milliseconds, 95 % intervals; null what this strip does not tell. */
export function readingData({ reading, strip, device, colour }: ToldReading) {
  const { figures, patches, refused } = reading;
  const base = figures?.base && inMs(figures.base);
  return {
    refused,
    baseMs: base?.ms ?? null,
    lowMs: base?.lowMs ?? null,
    highMs: base?.highMs ?? null,
    tone: reading.tone === undefined ? null : rounded(reading.tone, 3),
    whiteWithTone: figures?.white ? inMs(figures.white) : null,
    fullBlack: figures?.black ? inMs(figures.black) : null,
    isoR: figures?.isoR ? roundedEnds(figures.isoR, 1) : null,
    chosenMs: strip.chosenMs ?? null,
    filmContrast: reading.byNegative ? roundedEnds(reading.byNegative.contrast, 3) : null,
    flareShare: reading.byNegative ? roundedEnds(notNegative(reading.byNegative.flareShare), 4) : null,
    device,
    colour,
    patches: patches.map(({ fromPx, toPx, density, doseMs }) => ({
      edgesPx: [fromPx, toPx],
      densityAboveWhite: rounded(density, 3),
      exposureMs: doseMs,
    })),
  };
}

/** Milliseconds for figures in stops of a millisecond. */
export function inMs({ value, low, high }: Interval) {
  const ms = (stops: number) => Math.round(2 ** stops);
  return { ms: ms(value), lowMs: ms(low), highMs: ms(high) };
}

/** Light is never less than none, though an interval about a little of it may reach there. */
function notNegative(share: Interval): Interval {
  return { ...share, low: Math.max(0, share.low) };
}

function roundedEnds({ value, low, high }: Interval, places: number) {
  return { value: rounded(value, places), low: rounded(low, places), high: rounded(high, places) };
}

function rounded(figure: number, places: number): number {
  return Number(figure.toFixed(places));
}
