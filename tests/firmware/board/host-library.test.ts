import { describe, expect, test } from 'vitest';
import { openBoard } from '../../../host/board/link/open-board.js';
import { holdPedal, tapPedal } from '../../../host/board/sim/controls.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import type { BoardRecipe } from '../../../host/recipe/board-recipe.js';
import { readRecord } from '../../../shared-protocol/index.js';
import { EVENING_MS, recipe } from '../../host/board/link/laptop.js';
import { collect } from '../../host/board/link/talk.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

function withSky(made: BoardRecipe, stops120: number): BoardRecipe {
  const passes = made.passes.map((pass, index) => (index === 1 ? { ...pass, stops120 } : pass));
  return { ...made, passes };
}

describe.runIf(boardTestsRun)('the host library with the emulated board', () => {
  test('says hello, uploads a recipe, and pulls the print that the pedal made of it', async () => {
    const timeline = new Timeline();
    const emulated = new EmulatedBoard({ image: buildImage(), timeline });
    const clock = timelineClock(timeline, EVENING_MS);
    const over = <Result>(work: Promise<Result>) => inVirtualTime(timeline, work);
    const board = await over(openBoard(emulated.plug(), { clock, draw: () => 0 }));
    // +1.584963 of 11.041 s, 12.001 s less 8 %, adds 11.041 x (2^1.584963 - 1) = 22.082 s, by definition.
    const jetty = withSky(recipe('at the jetty'), (120 * 1_584_963) / 1_000_000);
    await over(board.sendRecipe(jetty));
    expect(await over(board.getRecipe('jetty'))).toEqual(jetty);
    await over(board.choose('recipe', 'jetty'));

    holdPedal(emulated, 900);
    emulated.advanceUs(3_000_000);
    tapPedal(emulated);
    holdPedal(emulated, 900);
    tapPedal(emulated);
    for (let taps = 0; taps < 8 && !emulated.panel[0]!.startsWith('Tap again'); taps++) {
      tapPedal(emulated);
      emulated.advanceUs(24_000_000);
    }

    const batches = await over(collect(board.collect(1)));
    const records = batches.flatMap((batch) => [...batch.records]);
    const passes = records
      .map(readRecord)
      .filter((entry) => entry?.type === 'exposure' && entry.kind !== 'focus');
    expect(passes).toMatchObject(Array(3).fill({ recipe: 'jetty', outcome: 'complete' }));
    expect(passes[1]).toMatchObject({ plannedMs: 22_082, doseMs: 22_082 });
    await over(board.forget(records.at(-1)!.seq));
    await board.close();
    expect(emulated.mistakes).toEqual([]);
    expect(emulated.watchdogResets).toEqual([]);
  }, 120_000);
});
