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
    tone: reading.tone === undefined ? null : Number(reading.tone.toFixed(3)),
    whiteWithTone: figures?.white ? inMs(figures.white) : null,
    fullBlack: figures?.black ? inMs(figures.black) : null,
    isoR: figures?.isoR ?? null,
    chosenMs: strip.chosenMs ?? null,
    filmContrast: reading.byNegative?.contrast ?? null,
    flareShare: reading.byNegative?.flareShare ?? null,
    device,
    colour,
    patches: patches.map(({ fromPx, toPx, density, doseMs }) => ({
      edgesPx: [fromPx, toPx],
      densityAboveWhite: Number(density.toFixed(3)),
      exposureMs: doseMs,
    })),
  };
}

/** Milliseconds for figures in stops of a millisecond. */
export function inMs({ value, low, high }: Interval) {
  const ms = (stops: number) => Math.round(2 ** stops);
  return { ms: ms(value), lowMs: ms(low), highMs: ms(high) };
}
