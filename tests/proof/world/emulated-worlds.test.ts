import { describe, it } from 'vitest';
import { boardTestsRun } from '../../firmware/board/rig/requirements.js';
import { emulatedBoards } from './emulated-home.js';
import { expectGoodWorlds, LIMIT_MS } from './many-worlds.js';

/** CI runs more, and `npm run soak -- --worlds N --board emulated` as many as you like. */
const WORLDS = Number(process.env.TREADLE_CHIP_WORLDS ?? 3);

describe.runIf(boardTestsRun)('with the image on the emulated chip', () => {
  it(
    `nothing is lost, doubled or lit by surprise in the first ${WORLDS} worlds`,
    () => expectGoodWorlds(1, WORLDS, emulatedBoards()),
    LIMIT_MS,
  );
});
