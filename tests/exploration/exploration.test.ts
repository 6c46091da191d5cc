import { expect, it } from 'vitest';
import { beginnings } from './actions.js';
import { explore, replay } from './explore.js';
import { exploredModule } from './explored-core.js';

/** `npm run soak` goes further. */
const STATES = Number(process.env.TREADLE_STATES ?? 100_000);
/** The states that a print and a strip lead through. */
const printing = [
  'rest',
  'focus',
  'lens-check',
  'ready',
  'exposing',
  'paused',
  'between-dodges',
  'done',
  'stuck',
];
const LIMIT_MS = 600_000;

it(
  `in each of ${STATES} states of the core the lamp, the way back, the panel's promise and the log are right`,
  () => {
    const found = explore(exploredModule(), STATES);
    console.log(`explored: ${JSON.stringify(found)}`);
    expect(found.states).toBeGreaterThanOrEqual(STATES);
    expect(Object.keys(found.statesByName), 'states of the evening that were met').toEqual(
      expect.arrayContaining(printing),
    );
    expect(found.promisesTried).toBeGreaterThan(STATES);
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
