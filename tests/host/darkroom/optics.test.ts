import { describe, expect, it } from 'vitest';
import { ApertureError, apertureFactor, readAperture } from '../../../host/darkroom/optics/aperture.js';
import {
  areaFactor,
  distancesMm,
  MagnificationError,
  magnificationAtColumn,
  magnificationFactor,
} from '../../../host/darkroom/optics/magnification.js';

const factor = (from: string, to: string, scale?: 'halves' | 'thirds') =>
  apertureFactor(readAperture(from, scale), readAperture(to, scale));

describe('apertures as engraved', () => {
  // Source: ISO 517:2008 (whole-stop markings, catalogue abstract); exact values computed as 2^(k/2).
  it('are whole stops apart exactly, whatever their rounding says', () => {
    const whole = [
      'f/1',
      'f/1.4',
      'f/2',
      'f/2.8',
      'f/4',
      'f/5.6',
      'f/8',
      'f/11',
      'f/16',
      'f/22',
      'f/32',
      'f/45',
      'f/64',
      'f/90',
      'f/128',
      'f/180',
      'f/256',
    ];
    whole.slice(1).forEach((to, index) => {
      expect(factor(whole[index]!, to)).toBeCloseTo(2, 9);
    });
    // (11 / 8)^2 would be 1.8906.
    expect(factor('f/8', 'f/11')).toBeCloseTo(2, 12);
  });

  // Source: (N2 / N1)^2, US Navy NAVEDTRA 14209, chapter 11, and a maker's handbook: f/8 to f/16 four times.
  it.each([
    ['f/8', 'f/16', 4],
    ['f/8', 'f/5.6', 0.5],
    ['8', '8', 1],
  ])('change the time from %s to %s by x %d', (from, to, expected) => {
    expect(factor(from, to)).toBeCloseTo(expected, 9);
  });

  // Source: a general table of f-numbers (half- and third-stop columns); exact values computed.
  it.each([
    ['f/9.5', undefined, 8 * 2 ** 0.25],
    ['f/6.7', undefined, 4 * 2 ** 0.75],
    ['f/13', 'halves', 13.454],
    ['f/13', 'thirds', 12.699],
    ['f/9', undefined, 8.98],
    ['f/10', undefined, 10.079],
    ['f/14', undefined, 14.254],
    ['f/18', undefined, 17.959],
    ['f/20', undefined, 20.159],
    ['f/36', undefined, 35.919],
    ['f/54', undefined, 53.817],
    ['f/80', undefined, 80.635],
    ['f/3.5', 'thirds', 3.564],
  ] as const)('between whole stops are exact too: %s', (text, scale, exact) => {
    expect(readAperture(text, scale).exactFNumber).toBeCloseTo(exact, 3);
  });

  it('that two scales share need the scale', () => {
    expect(() => readAperture('f/13')).toThrow(
      /half stop on some lenses \(exactly 13\.45\) and a third on others \(12\.70\)/,
    );
  });

  // Source: (N2 / N1)^2, computed: f/64 to f/192 is 9. It was refused, as beyond f/128.
  it('that are on no scale mean themselves, to the smallest that lenses have', () => {
    expect(readAperture('F 3.8').exactFNumber).toBe(3.8);
    expect(factor('f/64', 'f/192')).toBeCloseTo(9, 12);
  });

  it.each(['f/0', 'eight', 'f/513', '', 'f/-8', 'f/8.'])('are refused where they are none: "%s"', (text) => {
    expect(() => readAperture(text)).toThrow(ApertureError);
  });
});

describe('magnification', () => {
  // Source: ((M2 + 1) / (M1 + 1))^2, Clerc, Photography: Theory and Practice; values computed.
  it.each([
    [1, 2, 2.25],
    [2, 3, 1.7778],
    [3, 4, 1.5625],
    [4, 5, 1.44],
    [2, 5, 4],
    [3, 6, 3.0625],
    [4, 8, 3.24],
    [5, 10, 3.3611],
    [8, 12, 2.0864],
  ])('from %d to %d takes %d times as long', (from, to, expected) => {
    expect(magnificationFactor(from, to)).toBeCloseTo(expected, 4);
  });

  // Source: illuminance as 1 / (N (1 + M / p))^2 for a lens with pupil factor p; values computed.
  it.each([
    [0.8, 2.9388],
    [1, 2.7778],
    [1.2, 2.6406],
    [1.5, 2.4694],
  ])('from 2 to 4 with a pupil factor of %d takes %d times as long', (pupilFactor, expected) => {
    expect(magnificationFactor(2, 4, pupilFactor)).toBeCloseTo(expected, 4);
  });

  // Source: a worked example of the law of areas, 8 x 12 to 12 x 18: 2.25, 1.17 stop.
  it('by the plain law of areas agrees within 2 per cent only for prints far larger than the negative', () => {
    expect(areaFactor(8, 12)).toBeCloseTo(2.25, 9);
    expect(Math.log2(areaFactor(2, 4) / magnificationFactor(2, 4))).toBeCloseTo(0.526, 3);
    for (const from of [50, 55])
      expect(areaFactor(from, 60) / magnificationFactor(from, 60)).toBeLessThan(1.02);
  });

  // Source: u = f (1 + 1 / M), v = f (1 + M): Sinclair Handbook of Photography; Book of Photography for the
  // inch examples (7 inch at 2 x: 21 and 10.5; 8 inch at 4 x: 40 and 10); the rest computed.
  it.each([
    [7, 2, 10.5, 21],
    [8, 4, 10, 40],
    [80, 8, 90, 720],
    [50, 1, 100, 100],
    [50, 3, 66.667, 200],
    [50, 6, 58.333, 350],
    [50, 12, 54.167, 650],
  ])(
    'with a lens of %d at %d x puts lens and paper at %d and %d',
    (focal, magnification, negative, paper) => {
      const distances = distancesMm(focal, magnification);
      expect(distances.negativeToLensMm).toBeCloseTo(negative, 3);
      expect(distances.lensToPaperMm).toBeCloseTo(paper, 3);
    },
  );

  // Source: the inverse of T = f (2 + M + 1 / M); values computed.
  it.each([
    [50, 312.5, 4],
    [50, 605, 10],
    [50, 200, 1],
    [50, 700, 11.916],
    [80, 810, 8],
  ])('of a %d mm lens, %d mm from negative to paper, is %d', (focalLengthMm, columnMm, magnification) => {
    expect(magnificationAtColumn(focalLengthMm, columnMm)).toBeCloseTo(magnification, 3);
  });

  it('is refused where there is no sharp image, or no such lens or size', () => {
    expect(() => magnificationAtColumn(50, 199)).toThrow(/less than four focal lengths \(200 mm\)/);
    expect(() => magnificationAtColumn(0, 199)).toThrow(MagnificationError);
    expect(() => magnificationFactor(0, 3)).toThrow(MagnificationError);
    expect(() => magnificationFactor(3, Number.NaN)).toThrow(MagnificationError);
    expect(() => magnificationFactor(2, 3, 9)).toThrow(/pupil factor/);
  });
});
