import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { version } from '../../../../shared-protocol/index.js';
import { EVENING_MS, recipe } from '../../../host/board/link/laptop.js';
import { MicrobitBoard } from './microbit-board.js';
import { secondChipImage, secondChipRuns } from './requirements.js';

describe.runIf(secondChipRuns)('the host library with the board on its second chip', () => {
  let home: MicrobitBoard;

  beforeAll(() => void secondChipImage(), 240_000);

  afterEach(() => home?.close());

  test('is welcomed, and gets back the recipe that it sent', async () => {
    const timeline = new Timeline();
    home = new MicrobitBoard({ image: secondChipImage(), timeline });
    const clock = timelineClock(timeline, EVENING_MS);
    const over = <Result>(work: Promise<Result>) => inVirtualTime(timeline, work);
    const board = await over(openBoard(home.plug(), { clock, draw: () => 0 }));
    expect(board.welcome.firmwareVersion).toBe(version);
    const jetty = recipe('at the jetty');
    await over(board.sendRecipe(jetty));
    expect(await over(board.getRecipe('jetty'))).toEqual(jetty);
    await board.close();
    expect(home.ownResets).toEqual([]);
  }, 120_000);
});
