import { expect, it } from 'vitest';
import { bySeconds, byStops, countStrips, SIX_STOPS, withinTwo } from './strips-needed.js';

it('two strips in stops find the base in 99 of 100 negatives, wherever in six stops it lies', () => {
  for (const misread of [0, 0.02])
    expect(withinTwo(countStrips(byStops, SIX_STOPS, misread)), `eyes to ${misread}`).toBeGreaterThanOrEqual(
      0.99,
    );
});

it('strips in equal seconds seldom do, or the comparison would show nothing', () => {
  expect(withinTwo(countStrips(bySeconds, SIX_STOPS, 0))).toBeLessThan(0.5);
});
