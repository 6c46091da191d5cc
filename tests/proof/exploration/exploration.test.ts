import { expect, it } from 'vitest';
import { runState } from '../../../shared-protocol/schema.js';
import { beginnings } from './actions.js';
import { explore, Gathering, replay } from './explore.js';
import { exploredModule } from './explored-core.js';
import { Walker } from './walker.js';

/** `npm run soak` goes further. */
const STATES = Number(process.env.TREADLE_STATES ?? 30_000);
const LIMIT_MS = 600_000;
const FEW_STATES = 1_000;

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

it('two walkers that are never in step find what one finds', () => {
  const module = exploredModule();
  const alone = explore(module, FEW_STATES);
  const gathering = new Gathering(module, FEW_STATES, () => {});
  const walkers = [new Walker(module, gathering.tree), new Walker(module, gathering.tree)];
  for (;;) {
    const shares = [gathering.nextShare(true), gathering.nextShare(false)];
    if (shares[0] === undefined) break;
    // The second share is walked first, and gathered second.
    const found = shares.map((share, at) => [share, walkers[at]!] as const).reverse();
    const answers = found.map(([share, walker]) =>
      share === undefined ? undefined : walker.expand(...share),
    );
    for (const answer of answers.reverse()) if (answer !== undefined) gathering.add(answer);
  }
  expect(gathering.result()).toEqual(alone);
});

it('a way that a violation tells can be gone again, step by step', () => {
  const told: string[] = [];
  replay(exploredModule(), [...beginnings[1]!, 'tap'], (words) => told.push(words));
  expect(told).toHaveLength(beginnings[1]!.length + 1);
  expect(told.at(-1)).toMatch(/^tap: exposing, lamp on, 'Press pause/);
});
