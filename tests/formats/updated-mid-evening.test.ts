import { describe, expect, it } from 'vitest';
import { holdPedal, tapPedal } from '../../host/board/sim/controls.js';
import type { Flash } from '../../host/board/sim/flash.js';
import { nameNow } from '../../shared-protocol/index.js';
import { LaptopAndBoard } from '../host/board/link/laptop.js';
import { listOf } from '../setup/list-of.js';
import { Random } from '../setup/random.js';
import { seedCore, seedFlash, seedHeld } from './seed.js';

const SECOND_US = 1_000_000;
/** For focusing, in each part of the evening. */
const LIGHTS = 2;
/** More than any part of these evenings needs: there nothing is cut. */
const MOST_OPERATIONS = 60;

/** Light for focusing, each time an entry of the log; the power may fail in any operation on the flash. */
function playEvening({ board }: LaptopAndBoard): void {
  board.advanceUs(SECOND_US);
  for (let time = 0; time < LIGHTS; time++) {
    holdPedal(board, 900);
    board.advanceUs(2 * SECOND_US);
    tapPedal(board);
    board.advanceUs(SECOND_US);
  }
}

/** True where the power failed in that operation, some of its bits done. */
function cutAt(flash: Flash, operation: number, pair: LaptopAndBoard): boolean {
  const random = new Random(operation);
  const before = flash.operations;
  flash.cutPowerAfter(operation, () => random.chance(0.5));
  playEvening(pair);
  pair.board.close();
  flash.restorePower();
  return flash.operations - before > operation;
}

async function heldNow(flash: Flash) {
  const pair = new LaptopAndBoard({ flash });
  pair.board.advanceUs(SECOND_US);
  return pair.with(async (laptop) => {
    const recipes = [];
    for (const { name } of await laptop.listRecipes()) recipes.push(await laptop.getRecipe(name));
    const batches = await listOf(laptop.collect(0));
    const log = batches.flatMap(({ records }) => records);
    return { recipes, baths: await laptop.allBaths(), log };
  });
}

describe.each([1])('new firmware on a board of format %i in the middle of an evening', (format) => {
  const held = seedHeld(format);
  const told = held.log.map(([, type, ...fields]) => [nameNow(type), ...fields]);

  it('keeps the log, recipes and baths, wherever the power fails before it or after', async () => {
    let cuts = 0;
    for (let operation = 0; operation < MOST_OPERATIONS; operation++) {
      const flash = seedFlash(format);
      const before = cutAt(flash, operation, new LaptopAndBoard({ module: seedCore(format), flash }));
      const after = cutAt(flash, operation, new LaptopAndBoard({ flash }));
      const { recipes, baths, log } = await heldNow(flash);
      expect({ recipes, baths }, `${operation}`).toEqual({ recipes: held.recipes, baths: held.baths });
      const seqs = log.map(({ seq }) => seq);
      expect(seqs, `${operation}`).toEqual(seqs.map((_, at) => held.oldestSeq + at));
      expect(log.slice(0, told.length).map(({ type, fields }) => [type, ...fields])).toEqual(told);
      if (!before && !after) break;
      cuts += Number(before) + Number(after);
    }
    // Each light is an operation at least, and was cut in both parts.
    expect(cuts).toBeGreaterThan(2 * LIGHTS);
    expect(cuts).toBeLessThan(MOST_OPERATIONS);
  });

  it('has the light of both firmwares in one log, each once', async () => {
    const flash = seedFlash(format);
    cutAt(flash, MOST_OPERATIONS, new LaptopAndBoard({ module: seedCore(format), flash }));
    cutAt(flash, MOST_OPERATIONS, new LaptopAndBoard({ flash }));
    const { log } = await heldNow(flash);
    const boots = log.filter(({ seq }) => seq >= held.nextSeq).map(({ boot, type }) => `${boot} ${type}`);
    expect(new Set(boots.map((text) => text.split(' ')[0])).size).toBe(3);
    expect(boots.filter((text) => text.endsWith('exposure'))).toHaveLength(2 * LIGHTS);
  });
});
