import { describe, it } from 'vitest';
import { boardTestsRun } from '../../firmware/board/rig/requirements.js';
import { usbBoards } from './emulated-home.js';
import { expectGoodWorlds, LIMIT_MS } from './many-worlds.js';

/** `npm run soak -- --worlds N --board usb` runs more. */
const WORLDS = 2;

describe.runIf(boardTestsRun)('with the image on the emulated chip, over its USB cable', () => {
  it(
    `nothing is lost, doubled or lit by surprise in the first ${WORLDS} worlds`,
    () => expectGoodWorlds(1, WORLDS, usbBoards()),
    LIMIT_MS,
  );
});
