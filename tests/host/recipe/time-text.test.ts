import { describe, expect, it } from 'vitest';
import {
  formatAperture10,
  formatDryDown10,
  formatTime,
  readAperture10,
  readDryDown10,
  readExposure,
  readTime,
  UnreadableText,
} from '../../../host/recipe/index.js';

describe('times as people write them', () => {
  it.each([
    ['12.5s', 12_500],
    ['12.5 s', 12_500],
    ['450ms', 450],
    ['1m30s', 90_000],
    ['1min 30s', 90_000],
    ['1.5m', 90_000],
    ['0.001s', 1],
    ['8.007s', 8_007],
    ['1h', 3_600_000],
    ['0.0005h', 1_800],
  ])('%j is %i ms', (text, ms) => {
    expect(readTime(text)).toBe(ms);
  });

  it.each([
    ['12.5', 12_500],
    ['5', 5_000],
    ['450ms', 450],
  ])('an exposure of %j is %i ms: a number alone is seconds', (text, ms) => {
    expect(readExposure(text)).toBe(ms);
  });

  // Most of the world writes a comma; it was told that the unit is lacking, which it was not.
  it.each(['12,5', '12,5s'])('%j is told that decimals go after a point', (text) => {
    expect(() => readExposure(text)).toThrow('has a comma; write its decimals after a point, as 12.5s');
  });

  it.each([1, 999, 12_500, 8_007, 3_600_000])('%i ms is read again from what it is written as', (ms) => {
    expect(readTime(formatTime(ms))).toBe(ms);
  });

  it.each([
    ['12.5', /with its unit/],
    ['', /with its unit/],
    ['-5s', /with its unit/],
    ['12,5s', /after a point/],
    ['1e3s', /with its unit/],
    ['12.0005s', /finer than a millisecond/],
    ['0s', /from 0.001s to 1h/],
    ['2h', /from 0.001s to 1h/],
    ['60m1s', /from 0.001s to 1h/],
  ])('%j is refused in words', (text, words) => {
    expect(() => readTime(text)).toThrow(UnreadableText);
    expect(() => readTime(text)).toThrow(words);
  });
});

describe('apertures as engraved', () => {
  it.each([
    ['f/8', 80, 'f/8'],
    ['f5.6', 56, 'f/5.6'],
    ['F/11', 110, 'f/11'],
    ['8', 80, 'f/8'],
  ])('%j is %i tenths', (text, tenths, written) => {
    expect(readAperture10(text)).toBe(tenths);
    expect(formatAperture10(tenths)).toBe(written);
  });

  it.each(['', 'f/', 'f/0', 'f/5.66', 'f/513', 'f/8 1/2'])('%j is refused', (text) => {
    expect(() => readAperture10(text)).toThrow(UnreadableText);
  });
});

describe('dry-down', () => {
  it('is written in per cent', () => {
    expect([readDryDown10('8%'), readDryDown10('8.5 %'), formatDryDown10(85)]).toEqual([80, 85, '8.5%']);
    for (const text of ['%', '51%', '-1%', '8.55%'])
      expect(() => readDryDown10(text)).toThrow(UnreadableText);
  });
});
