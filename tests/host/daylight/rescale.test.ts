import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readAperture } from '../../../host/darkroom/optics/aperture.js';
import { RescaleError, type RescaleRequest, reasonOf, rescale } from '../../../host/daylight/rescale.js';
import { readPrintSize, SizeError, sizeText } from '../../../host/recipe/print-size.js';

const seed = 20270305;
const papers = (from: string, to: string) => ({ from: readPrintSize(from), to: readPrintSize(to) });
const stops = (from: string, to: string) => ({ from: readAperture(from), to: readAperture(to) });

describe('a recipe for another size, stop or paper', () => {
  // Source: ((M2 + 1) / (M1 + 1))^2, Clerc: 3 to 4.5 is (5.5 / 4)^2 = 1.890625.
  it('takes 18.906 s where 10 s were right, from 3 x to 4.5 x', () => {
    const result = rescale({ baseMs: 10_000, size: { magnification: { from: 3, to: 4.5 } } });
    expect(result.baseMs).toBe(18_906);
    expect(result.magnification).toBe(4.5);
    expect(result.reasons).toHaveLength(1);
    expect(result.reasons[0]!.because).toContain('((1 + 4.5) / (1 + 3))² = 1.891');
  });

  // Source: whole stops of ISO 517; 10 s at f/8 is 20 s at f/11 (US Navy NAVEDTRA 14209, chapter 11).
  it('takes twice as long one stop down, exactly', () => {
    const result = rescale({ baseMs: 12_500, aperture: stops('f/8', 'f/11') });
    expect(result.baseMs).toBe(25_000);
    expect(result.stops).toBeCloseTo(1, 12);
    expect(result.aperture?.marked).toBe(11);
  });

  // Source: t2 = t1 x P1 / P2 from P = 1000 / Hm (ISO 6846, from memory); values computed.
  it.each([
    [200, 500, 4000, -1.322],
    [160, 100, 16_000, 0.678],
  ])('goes from paper P%d to P%d with 10 s as %d ms', (from, to, baseMs, apart) => {
    const result = rescale({ baseMs: 10_000, paperSpeedP: { from, to } });
    expect(result.baseMs).toBe(baseMs);
    expect(result.stops).toBeCloseTo(apart, 3);
    expect(result.cautions.map(({ kind }) => kind)).toContain('paper-differs');
  });

  it('multiplies all factors in any order and rounds once, at the end', () => {
    const change = fc.record({
      from: fc.double({ min: 0.5, max: 20, noNaN: true }),
      to: fc.double({ min: 0.5, max: 20, noNaN: true }),
    });
    const speed = fc.record({
      from: fc.integer({ min: 50, max: 800 }),
      to: fc.integer({ min: 50, max: 800 }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 5000, max: 30_000 }),
        change,
        speed,
        (baseMs, magnification, paperSpeedP) => {
          const aperture = stops('f/8', 'f/9.5');
          const all: RescaleRequest = { baseMs, size: { magnification }, paperSpeedP, aperture };
          const product = [{ size: all.size! }, { paperSpeedP }, { aperture }]
            .map((one) => rescale({ baseMs: 1000, ...one }).factor)
            .reduce((a, b) => b * a, 1);
          const exactMs = baseMs * product;
          if (exactMs < 1 || exactMs > 3_600_000) return;
          expect(Math.abs(rescale(all).baseMs - exactMs)).toBeLessThanOrEqual(0.5 + 1e-6);
        },
      ),
      { seed },
    );
  });

  it('comes back to within its rounding when the change is undone', () => {
    const there = rescale({ baseMs: 12_345, size: { magnification: { from: 3, to: 7 } } });
    const back = rescale({ baseMs: there.baseMs, size: { magnification: { from: 7, to: 3 } } });
    expect(Math.abs(back.baseMs - 12_345)).toBeLessThanOrEqual(1);
  });

  it('takes paper sizes of one shape by their sides, with the negative’s size to be exact', () => {
    const paper = papers('18x24cm', '30x40cm');
    // 24 x 36 mm on 18 x 24 cm fills at 180 / 24 = 7.5; 7.5 x 40 / 24 = 12.5; (13.5 / 8.5)^2 = 2.5225.
    const result = rescale({ baseMs: 10_000, size: { paper, negative: readPrintSize('24x36mm') } });
    expect(result.baseMs).toBe(25_225);
    expect(result.magnification).toBeCloseTo(12.5, 9);
    expect(result.cautions.map(({ kind }) => kind)).toEqual(['cropped', 'area-law']);
  });

  // Source: ((M2 + 1) / (M1 + 1))^2, Clerc. 4 x 5 in fills 8 x 10 in at 2 and 11 x 14 in at 14 / 5 = 2.8: 3.8^2 / 3^2.
  it('takes 1.604 times as long from 8 x 10 to 11 x 14 in off a negative of 4 x 5 in', () => {
    const size = { paper: papers('8x10in', '11x14in'), negative: readPrintSize('4x5in') };
    const result = rescale({ baseMs: 10_000, size });
    expect(result.factor).toBeCloseTo(1.6044, 4);
    expect(result.cautions.map(({ kind }) => kind)).toEqual(['cropped', 'area-law']);
    // The short side needs 11 in / 2.8 = 99.8 mm of 101.6.
    expect(result.cautions[0]!.text).toContain(
      "filling 11 x 14 in at 2.8 x crops the negative: 1.8 mm of its short side's 101.6 mm on 11 x 14 in, and nothing on 8 x 10 in",
    );
  });

  // Source: the magnification is a print's side over the negative's: 279.4 / 24 fills 11 x 14 in with 24 x 36 mm.
  // The papers' own ratio, 1.4, had been taken on from 8 x 10 in, and gave 11.85.
  it('fills each paper from the negative, and says what is cropped', () => {
    const size = { paper: papers('8x10in', '11x14in'), negative: readPrintSize('24x36mm') };
    const result = rescale({ baseMs: 10_000, size });
    expect(result.magnification).toBeCloseTo(279.4 / 24, 9);
    expect(result.factor).toBeCloseTo(((279.4 / 24 + 1) / (203.2 / 24 + 1)) ** 2, 9);
    // 355.6 / 11.642 = 30.5 of 36 mm; 254 / 8.467 = 30.0.
    expect(result.cautions[0]!.text).toMatch(
      /11\.64 x crops the negative: 5\.5 mm of its long side's 36 mm on 11 x 14 in, and 6\.0 mm/,
    );
  });

  it('is refused where the negative and the first magnification contradict each other', () => {
    const size = {
      paper: papers('8x10in', '11x14in'),
      negative: readPrintSize('4x5in'),
      magnificationNow: 5,
    };
    expect(() => rescale({ baseMs: 10_000, size })).toThrow(
      /magnification is 5, but a negative of 4 x 5 in fills 8 x 10 in at 2; leave the negative out/,
    );
    // Measured with a ruler, 2.02 is the same.
    expect(rescale({ baseMs: 10_000, size: { ...size, magnificationNow: 2.02 } }).factor).toBeCloseTo(
      1.6044,
      4,
    );
  });

  it('uses the law of areas where no magnification is known, and says what that is worth', () => {
    const result = rescale({ baseMs: 10_000, size: { paper: papers('18x24cm', '30x40cm') } });
    expect(result.factor).toBeCloseTo((40 / 24) ** 2, 9);
    expect(result.magnification).toBeUndefined();
    expect(result.cautions[0]!.text).toMatch(
      /gives too long an exposure for small prints.*give the magnification/,
    );
  });

  it('says so when the papers differ in shape, and fills the new one', () => {
    const result = rescale({
      baseMs: 10_000,
      size: { paper: papers('18x24cm', '24x30cm'), magnificationNow: 7.5 },
    });
    expect(result.magnification).toBeCloseTo((7.5 * 24) / 18, 9);
    expect(result.cautions[0]!.text).toMatch(/short side grows x 1\.333, the long side x 1\.25/);
  });

  it('reads the column: 312.5 mm to 605 mm with a 50 mm lens is 4 x to 10 x', () => {
    const result = rescale({
      baseMs: 10_000,
      size: { columnMm: { from: 312.5, to: 605 }, focalLengthMm: 50 },
    });
    // (11 / 5)^2 = 4.84.
    expect(result.baseMs).toBe(48_400);
    expect(result.reasons[0]!.because).toContain('negative to paper 312.5 mm to 605 mm with a 50 mm lens');
  });

  it('carries the factor of a filter change with its reason', () => {
    const result = rescale({ baseMs: 10_000, other: [reasonOf('filter', 2, 'filter 2 to filter 4', 'x 2')] });
    expect(result.baseMs).toBe(20_000);
  });

  it('warns of a change so large that papers answer otherwise', () => {
    const result = rescale({ baseMs: 2000, aperture: stops('f/4', 'f/11') });
    expect(result.cautions).toEqual([]);
    expect(rescale({ baseMs: 2000, aperture: stops('f/4', 'f/16') }).cautions[0]!.kind).toBe('large-change');
  });

  it('is refused in words when it changes nothing or leads beyond the board', () => {
    expect(() => rescale({ baseMs: 10_000 })).toThrow(/give what changes/);
    expect(() => rescale({ baseMs: 2_000_000, aperture: stops('f/8', 'f/11') })).toThrow(
      /4000\.000 s.*open the lens/,
    );
    expect(() => rescale({ baseMs: 10_000, paperSpeedP: { from: 0, to: 100 } })).toThrow(RescaleError);
  });
});

describe('sizes of paper', () => {
  it('are read in centimetres, millimetres and inches, either way round', () => {
    expect(readPrintSize('24x18cm')).toEqual({ shortMm: 180, longMm: 240, unit: 'cm' });
    expect(readPrintSize('24 x 36 mm')).toEqual({ shortMm: 24, longMm: 36, unit: 'mm' });
    for (const text of ['8x10in', '10 x 8 Inches', '8x10"', '8in x 10in'])
      expect(readPrintSize(text).longMm).toBeCloseTo(254, 9);
    expect(sizeText(readPrintSize('9.5x12in'))).toBe('9.5 x 12 in');
  });

  // 8x10 was taken for centimetres: 8 x 10 to 11 x 14 off 4 x 5 in gave a factor of 1.3835, not 1.604.
  it.each(['8x10', '24 x 36', '8in x 10'])('ask for their unit: "%s"', (text) => {
    expect(() => readPrintSize(text)).toThrow(
      /does not say its unit; write \d+x\d+in, \d+x\d+cm, \d+x\d+mm$/,
    );
  });

  it.each(['A4', '18', '18x', '0x24cm', '18x2400cm', '-3x4cm'])(
    'are refused where they are none: "%s"',
    (text) => {
      expect(() => readPrintSize(text)).toThrow(SizeError);
    },
  );
});
