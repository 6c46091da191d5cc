import { expect, it } from 'vitest';
import { runState } from '../../../shared-protocol/schema.js';
import { beginnings } from './actions.js';
import { explore, replay } from './explore.js';
import { exploredModule } from './explored-core.js';

/** `npm run soak` goes further. */
const STATES = Number(process.env.TREADLE_STATES ?? 30_000);
const LIMIT_MS = 600_000;

it(
  `in each of ${STATES} states of the core the lamp, the way back, the panel's prompt and the log are right`,
  () => {
    const found = explore(exploredModule(), STATES);
    console.log(`explored: ${JSON.stringify(found)}`);
    expect(found.states).toBeGreaterThanOrEqual(STATES);
    expect(Object.keys(found.statesByName).sort(), 'states of the evening that were met').toEqual(
      [...runState.options].sort(),
    );
    expect(found.promptsTried).toBeGreaterThan(STATES);
    expect(found.accountsChecked).toBeGreaterThan(0);
  },
  LIMIT_MS,
);

it('a way that a violation tells can be gone again, step by step', () => {
  const told: string[] = [];
  replay(exploredModule(), [...beginnings[1]!, 'tap'], (words) => told.push(words));
  expect(told).toHaveLength(beginnings[1]!.length + 1);
  expect(told.at(-1)).toMatch(/^tap: exposing, lamp on, 'Press pause/);
});
