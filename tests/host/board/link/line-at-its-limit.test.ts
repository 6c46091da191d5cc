import { describe, expect, it } from 'vitest';
import { collectOver, filledFlash, LINE_BITS_A_BYTE, shareOf } from '../../../proof/bench/log-over-noise.js';
import { isSameLog } from '../../../proof/bench/log-pull.js';

const ENTRIES = 300;
const SEEDS = [1, 2, 3];

/**
 * Of lines of some seventy bytes nine in ten arrive whole where one bit in 10^4 is wrong (0.9999^(8 * 70) = 0.95, and
 * each that is lost comes with a request of its own and its end): that is as much as can be had.
 */
describe('a line that has one bit in 10,000 wrong', async () => {
  const image = await filledFlash(ENTRIES);

  it.each([115_200, 921_600])(
    'carries, at %i baud, the log with 85 hundredths of what its wire can',
    async (baud) => {
      const clean = await collectOver(image, baud, 0);
      const pulls = [];
      for (const seed of SEEDS) pulls.push(await collectOver(image, baud, 1e-4, seed));
      expect(pulls.filter((pull) => !isSameLog(pull, clean))).toEqual([]);
      expect(shareOf(baud / LINE_BITS_A_BYTE, pulls)).toBeGreaterThanOrEqual(0.85);
    },
  );
});
