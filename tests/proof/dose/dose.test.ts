import { expect, it } from 'vitest';
import { OFFSETS, proveDoses } from './prove-doses.js';

const SEED = 20261128;

// `npm run bench -- proof` has the worst cases, and as many plans as TREADLE_DOSES says.
it(`at every offset the pieces add up to the true light within 1 ms and 2^-20 of it (seed ${SEED})`, () => {
  const { kinds, beyond } = proveDoses(2 * OFFSETS, SEED);
  expect(beyond).toEqual([]);
  // Strips, prints and burns, each with a lamp that lags and without, cut short and whole.
  expect([...kinds.values()].filter(({ areas }) => areas > 0)).toHaveLength(12);
});
