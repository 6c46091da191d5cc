import { expect, it } from 'vitest';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import {
  bySeconds,
  byStops,
  countStrips,
  rightWithinTwo,
  SIX_STOPS,
  USUAL,
  withinTwo,
} from './strips-needed.js';

it('two strips in stops find the base in 99 of 100 negatives, wherever in six stops it lies', () => {
  for (const misread of [0, 0.02])
    expect(withinTwo(countStrips(byStops, SIX_STOPS, misread)), `eyes to ${misread}`).toBeGreaterThanOrEqual(
      0.99,
    );
});

it('strips in equal seconds seldom do, or the comparison would show nothing', () => {
  expect(withinTwo(countStrips(bySeconds, SIX_STOPS, 0))).toBeLessThan(0.5);
});

// Sixths of a stop gave 93.6 % here: half-way between two patches either is a twelfth off already.
it.each([SIX_STOPS, USUAL])(
  'with eyes to 0.02 two strips find the base in as many cases as eyes allow, but for half a point',
  (range) => {
    for (const saysBetween of [false, true]) {
      const count = countStrips(byStops, range, 0.02, saysBetween);
      expect(rightWithinTwo(count), `between two: ${saysBetween}`).toBeGreaterThanOrEqual(
        count.eyesAllow - 0.005,
      );
    }
  },
);

it('eyes that are off by more than a twelfth of a stop set a limit below 1', () => {
  // 0.60 above base comes at Hm = 1000 / P, 5 lux seconds at P200 (ISO 6846, from memory).
  const paper = new Paper(commonPaper);
  const overTwelfth =
    paper.densityAt('2', Math.log10(5 * 2 ** (1 / 12))) - paper.densityAt('2', Math.log10(5));
  expect(countStrips(byStops, USUAL, 0.05).eyesAllow).toBeCloseTo(overTwelfth / 0.05, 2);
});
