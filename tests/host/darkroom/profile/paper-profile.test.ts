import { describe, expect, it } from 'vitest';
import { densityAt } from '../../../../host/darkroom/paper/characteristic-curve.js';
import { curveFrom } from '../../../../host/darkroom/paper/paper.js';
import type { KeptReading, KeptStripReading } from '../../../../host/darkroom/profile/kept-reading.js';
import { profileFrom } from '../../../../host/darkroom/profile/paper-profile.js';

const FLARE = 0.003;

/** A strip of a paper of this range that needs `speedMs` for 0.60, as a flatbed with its usual stray light sees it. */
function strip(
  filter: string,
  rangeR: number,
  speedMs: number,
  more: Partial<KeptStripReading> = {},
  stopsFromSpeed = [-3, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 3, 4, 5].map((each) => each * (rangeR / 100)),
): KeptStripReading {
  const curve = curveFrom({ baseDensity: 0, maximumDensity: 2.05 }, { speedP: 1000, rangeR });
  const patches = stopsFromSpeed.map((stops) => {
    const doseMs = speedMs * 2 ** stops;
    const share = 10 ** -densityAt(curve, Math.log10(doseMs / speedMs));
    return { doseMs, density: -Math.log10((share + FLARE) / (1 + FLARE)), noise: 0.001 };
  });
  return { kind: 'strip', filter, device: 'flatbed', light: 'one', scan: 'strip.tif', patches, ...more };
}

/** As most strips are: half stops from 5 s. */
function sixPatches(speedMs: number): KeptStripReading {
  const stops = [0, 0.5, 1, 1.5, 2, 2.5].map((each) => each + Math.log2(5000 / speedMs));
  return strip('2', 100, speedMs, {}, stops);
}

const profileOf = (...said: KeptReading[]) => profileFrom(said.map((body) => ({ body, keptMs: 0 })))!;

describe('the profile of a paper', () => {
  it('has the range and the factor of each filter, and the black that the strips show', () => {
    const { filters, black, referenceFilter } = profileOf(strip('2', 110, 8000), strip('5', 60, 16_000));
    expect(referenceFilter).toBe('2');
    expect(filters.map(({ filter }) => filter)).toEqual(['2', '5']);
    expect(filters[0]!.rangeR!.value).toBeCloseTo(110, 0);
    expect(filters[1]!.rangeR!.value).toBeCloseTo(60, 0);
    expect(filters[1]!.factor!.value).toBeCloseTo(2, 1);
    expect(black.isMeasured).toBe(true);
    expect(black.value).toBeCloseTo(2.05, 2);
  });

  it('gives the ISO speed where the light on the easel was measured: P = 1000 / Hm', () => {
    const [filter] = profileOf(strip('2', 110, 4000, { lux: 1.25 })).filters;
    // 4 s of 1.25 lux are 5 lux seconds: P200 (ISO 6846, from memory).
    expect(filter!.speedP!.value).toBeCloseTo(200, -1);
    expect(filter!.speedP!.low).toBeLessThan(200);
    expect(filter!.speedP!.high).toBeGreaterThan(200);
  });

  it('gets surer with each strip, but never surer than its one scanner', () => {
    const halves = (count: number) => {
      const { filters, black } = profileOf(...Array.from({ length: count }, () => strip('2', 110, 8000)));
      const rangeR = filters[0]!.rangeR!;
      return { range: rangeR.high - rangeR.value, black: black.high - black.value };
    };
    const [one, two, eight] = [halves(1), halves(2), halves(8)];
    expect(two.range).toBeLessThan(one.range);
    expect(eight.range).toBeLessThan(two.range);
    // The scanner's tone curve, 3 % of every density, is in all strips alike.
    expect(eight.black).toBeGreaterThan(0.9 * two.black);
    expect(eight.black).toBeGreaterThan(0.06);
  });

  it('points at a strip that does not go with two others, and leaves it out', () => {
    const good = [strip('2', 110, 8000), strip('2', 110, 8010), strip('2', 110, 7990)];
    const { strips, filters } = profileOf(...good, strip('2', 80, 8000));
    expect(strips.map(({ state }) => state)).toEqual(['taken', 'taken', 'taken', 'outlier']);
    expect(strips[3]!.outlier).toMatchObject({ of: 'range', isLeftOut: true });
    expect(filters[0]!.rangeR!.value).toBeCloseTo(110, 0);
  });

  // Where one went with the others by none of its patches, its step came out as no number, and another one was left out in its place.
  it.each([0.25, 0.32, 0.4])('leaves out the one of three that had %f stop less light', (stops) => {
    const off = sixPatches(10_000 * 2 ** stops);
    const { strips, filters } = profileOf(sixPatches(10_000), sixPatches(10_050), off);
    expect(strips.map(({ state }) => state)).toEqual(['taken', 'taken', 'outlier']);
    expect(strips[2]!.outlier!.of).toBe('speed');
    expect(strips[2]!.outlier!.off).toBeCloseTo(stops, 1);
    expect(filters[0]!.rangeR!.value).toBeCloseTo(100, -1);
  });

  it('says that two alone do not go together, and makes the interval wider', () => {
    const { strips, filters } = profileOf(strip('2', 110, 8000), strip('2', 80, 8000));
    expect(strips.some(({ state }) => state === 'in doubt')).toBe(true);
    const alike = profileOf(strip('2', 95, 8000), strip('2', 95, 8000));
    const width = ({ rangeR }: (typeof filters)[number]) => rangeR!.high - rangeR!.low;
    expect(width(filters[0]!)).toBeGreaterThan(2 * width(alike.filters[0]!));
  });

  it('compares filters over evenings of another light by a filter that both have', () => {
    const { filters } = profileOf(
      strip('2', 110, 8000),
      strip('2', 110, 2000, { light: 'head lower' }),
      strip('5', 60, 4000, { light: 'head lower' }),
    );
    expect(filters[1]!.factor!.value).toBeCloseTo(2, 1);
    const apart = profileOf(strip('2', 110, 8000), strip('5', 60, 4000, { light: 'head lower' }));
    expect(apart.filters[1]).toMatchObject({ factor: undefined, rangeR: expect.anything() });
  });

  it('tells the dry-down of a strip that was scanned wet and dry', () => {
    const dry = strip('2', 110, 8000);
    // Wet, each tone is that of less light.
    const wet = dry.patches.map((patch) => ({ ...patch, doseMs: patch.doseMs * 2 ** 0.12 }));
    const { dryDownStops } = profileOf({ ...dry, wet });
    expect(dryDownStops!.value).toBeCloseTo(0.12, 2);
    expect(dryDownStops!.low).toBeLessThan(0.12);
  });

  it('leaves out what the printer says, takes it in again, and has each earlier version still', () => {
    const said: KeptReading[] = [
      strip('2', 110, 8000),
      strip('2', 90, 8000),
      { kind: 'left-out', reading: 2 },
      { kind: 'taken-in', reading: 2 },
    ];
    const rows = said.map((body) => ({ body, keptMs: 0 }));
    const states = (version: number) => profileFrom(rows, version)!.strips.map(({ state }) => state);
    expect(states(1)).toEqual(['taken']);
    expect(states(3)).toEqual(['taken', 'left out by you']);
    expect(states(4)[1]).not.toBe('left out by you');
    expect(profileFrom(rows, 3)!.filters[0]!.rangeR!.value).toBeCloseTo(110, 0);
  });

  it('passes over what is damaged or of a later version, and is none without a strip', () => {
    expect(
      profileFrom([
        { body: null, keptMs: 0 },
        { body: { kind: 'spectrum' }, keptMs: 0 },
      ]),
    ).toBeUndefined();
  });
});
