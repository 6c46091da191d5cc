import { expect, it } from 'vitest';
import { Random } from '../../setup/random.js';
import { TwoBoards } from './contact-chatter.js';

const SEED = 20_270_305;
const EDGES = 200_000;

// `npm run soak -- --edges 100000000` goes on for as many as a pedal makes in its life.
it(`contacts that bounce and pick up sparks work a board as clean ones do, and light nothing by themselves, seed ${SEED}`, () => {
  const boards = new TwoBoards(new Random(SEED));
  while (boards.report.edges < EDGES) boards.row();
  expect(boards.report.lights).toBeGreaterThan(20);
  expect(boards.report.entries).toBeGreaterThan(20);
});
