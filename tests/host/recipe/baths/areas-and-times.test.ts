import { describe, expect, it } from 'vitest';
import {
  formatAreaCm2,
  formatBathTime,
  leftOf,
  readAreaCm2,
  readBathTime,
} from '../../../../host/recipe/baths/index.js';

describe('an area of paper', () => {
  // Source: a square metre is 10,000 square centimetres; sheets by side times side, computed.
  it.each([
    ['20000cm2', 20_000],
    [' 1 cm\u00b2 ', 1],
    ['2m2', 20_000],
    ['0.5 m2', 5000],
    ['40 x 8x10in', 40 * 516],
    ['1x18x24cm', 432],
    ['10 \u00d7 240 x 300 mm', 7200],
  ])('%j is read as %d cm2', (text, cm2) => {
    expect(readAreaCm2(text)).toBe(cm2);
  });

  it.each(['', 'm2', '-1cm2', '2 m', '8x10in', '40 x', '1001m2', '0.00001m2', '1e3cm2'])(
    '%j is refused',
    (text) => {
      expect(() => readAreaCm2(text)).toThrow(`'${text}' is `);
    },
  );

  it('is written as it is read', () => {
    for (const cm2 of [1, 516, 10_000_000]) expect(readAreaCm2(formatAreaCm2(cm2))).toBe(cm2);
  });
});

describe("a bath's time", () => {
  it('is written with hours, minutes and seconds, and read again', () => {
    expect([0, 1, 59, 60, 90, 3600, 3599].map(formatBathTime)).toEqual([
      '0s',
      '1s',
      '59s',
      '1m',
      '1m30s',
      '1h',
      '59m59s',
    ]);
    for (let seconds = 0; seconds <= 3600; seconds++)
      expect(readBathTime(formatBathTime(seconds), 3600)).toBe(seconds);
  });

  it('of nothing may be written in any unit', () => {
    for (const text of ['0s', '0 m', '0.0h']) expect(readBathTime(text, 255)).toBe(0);
    expect(() => readBathTime('0', 255)).toThrow("'0' is not a time");
  });
});

describe('what a bath has left', () => {
  const bath = {
    label: 'fixer',
    bath: 3,
    baths: 4,
    resinCoatedSeconds: 90,
    fibreSeconds: 300,
    drainSeconds: 10,
  };
  const used = (limitCm2: number, areaCm2: number) =>
    leftOf({ ...bath, agitationSeconds: 0, sheets: 0, limitCm2, areaCm2 }, 500);

  it('is told in whole sheets, and never below nothing', () => {
    expect(used(0, 9000)).toBeUndefined();
    expect(used(2000, 0)).toEqual({ cm2: 2000, sheets: 4, overCm2: 0 });
    expect(used(2000, 1001)).toEqual({ cm2: 999, sheets: 1, overCm2: 0 });
    expect(used(2000, 2000)).toEqual({ cm2: 0, sheets: 0, overCm2: 0 });
    expect(used(2000, 2500)).toEqual({ cm2: 0, sheets: 0, overCm2: 500 });
  });
});
