import { it } from 'vitest';
import { expectGoodWorlds, LIMIT_MS, WORLDS_EACH } from './many-worlds.js';
import { simulatedBoards } from './simulated-home.js';

it(
  `nothing is lost, doubled or lit by surprise in the first ${WORLDS_EACH} worlds`,
  () => expectGoodWorlds(1, WORLDS_EACH, simulatedBoards()),
  LIMIT_MS,
);
