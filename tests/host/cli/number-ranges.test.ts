import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numberRanges } from '../../../host/number-ranges.js';

describe('numbers that are missing', () => {
  it.each([
    [[], ''],
    [[7], '7'],
    [[12, 13, 14, 40], '12-14, 40'],
    [[1, 3, 5, 7, 9, 11, 13, 15, 17], '1, 3, 5, 7, 9, 11, 13, 15, and 1 more range'],
  ])('%j are told as "%s"', (numbers, text) => {
    expect(numberRanges(numbers)).toBe(text);
  });

  // A flash with half of its records gone once filled the screen with forty thousand numbers.
  it('never fill the screen, however many there are', () => {
    const numbers = fc.uniqueArray(fc.nat(1_000_000), { maxLength: 3000 });
    fc.assert(
      fc.property(numbers, (some) => {
        expect(numberRanges(some.toSorted((one, other) => one - other)).length).toBeLessThan(180);
      }),
    );
  });
});
