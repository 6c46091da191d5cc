import { expect, it } from 'vitest';
import { eyesLimit } from './eyes-limit.js';
import { USUAL } from './strips-needed.js';

it('the best reader of two strips comes as near as the patches allow, and the board never nearer', () => {
  const { allowed, best, board, allowedStops, bestStops, boardStops } = eyesLimit(USUAL, true, 200);
  expect(best).toBeGreaterThan(allowed - 0.01);
  expect(board).toBeLessThanOrEqual(best);
  // Cramer and Rao's bound holds on the average; of 200 negatives it may lie 10 % off (two deviations).
  expect(bestStops).toBeGreaterThan(0.9 * allowedStops);
  expect(bestStops).toBeLessThan(1.1 * allowedStops);
  expect(boardStops).toBeGreaterThan(bestStops);
});
