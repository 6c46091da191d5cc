import { describe, expect, it } from 'vitest';
import { holdPedal, pushKnob, tapPedal } from '../../host/board/sim/controls.js';
import type { Flash } from '../../host/board/sim/flash.js';
import { storageFormat } from '../../shared-protocol/documents.js';
import { limits, type Message } from '../../shared-protocol/index.js';
import { EveningBench } from '../firmware/core/evening/evening-bench.js';
import { LaptopAndBoard } from '../host/board/link/laptop.js';
import { seedFlash, seedHeld } from './seed.js';

const NEWER = 7;
/** The byte and its complement. */
const mark = (format: number) => Uint8Array.of(format, 0xff ^ format);
const BEHIND_MARK = 12;
const BEHIND_HEADER = 56;

/** Where the sectors that bear this mark begin. */
function sectorsOf(flash: Flash, magic: string): number[] {
  const offsets = Array.from({ length: flash.size / limits.sectorBytes }, (_, at) => at * limits.sectorBytes);
  return offsets.filter((offset) => Buffer.from(flash.read(offset, 4)).toString() === magic);
}

const places: readonly (readonly [string, magic: string, behind: number])[] = [
  ['a sector of the log', 'Log1', BEHIND_MARK],
  ['a sector of the tally', 'Tly1', BEHIND_MARK],
  ['a sector of the shelf', 'Shf1', BEHIND_MARK],
  ['a document', 'Shf1', BEHIND_HEADER],
];

const needStorage: readonly Message[] = [
  { type: 'collect', id: 0, fromSeq: 1, count: 64 },
  { type: 'forget', id: 0, uptoSeq: 90 },
  { type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 1 },
  { type: 'set-clock', id: 0, epochMs: Date.UTC(2027, 0, 1) },
  { type: 'recipe-list', id: 0 },
  { type: 'recipe-get', id: 0, name: 'boathouse' },
  { type: 'recipe-remove', id: 0, name: 'boathouse' },
  { type: 'recipe-begin', id: 0, name: 'boathouse', passes: 1, dodges: 0 },
  { type: 'recipe-commit', id: 0, whole: '00000000' },
  { type: 'bath-get', id: 0, bath: 1 },
  { type: 'bath-renew', id: 0, bath: 1 },
  { type: 'choose', id: 0, job: 'recipe', name: 'boathouse' },
];

describe.each(places)('a flash on which a newer firmware left its format in %s', (_, magic, behind) => {
  function newerFlash(): Flash {
    const flash = seedFlash(1);
    flash.program(sectorsOf(flash, magic).at(-1)! + behind, mark(NEWER));
    return flash;
  }

  it('is refused in words that name both, and stays as it is bit for bit, whatever is done', () => {
    const flash = newerFlash();
    const before = Buffer.from(flash.image());
    const operations = flash.operations;
    const { board } = new LaptopAndBoard({ flash });
    const bench = new EveningBench(board);
    bench.greet();
    expect(bench.ask({ type: 'ping', id: 0 })).toMatchObject([
      { type: 'status', recipes: 0, entriesLeft: 0 },
    ]);
    for (const request of needStorage)
      expect(bench.ask(request), request.type).toMatchObject([
        { type: 'error', code: 'not-allowed', text: 'flash format 7, firmware knows 1: update the firmware' },
      ]);
    for (let round = 0; round < 3; round++) {
      board.knobTurn(1);
      tapPedal(board);
      bench.seconds(30);
      pushKnob(board);
      pushKnob(board, 900);
    }
    expect(board.lampEdges).toEqual([]);
    expect(bench.panel).toEqual(['Hold focus', 'flash format 7', 'firmware knows 1', 'update the firmware']);
    holdPedal(board, 900);
    bench.seconds(3);
    tapPedal(board);
    bench.seconds(3600);
    expect(board.lampOn).toBe(false);
    expect(flash.operations).toBe(operations);
    expect(Buffer.from(flash.image()).equals(before)).toBe(true);
  });

  it('keeps no laptop from bringing the firmware that knows it', () => {
    const { board } = new LaptopAndBoard({ flash: newerFlash() });
    let left = 0;
    board.on('left', () => left++);
    const bench = new EveningBench(board);
    bench.greet();
    expect(bench.ask({ type: 'make-way', id: 0, ask: true })).toMatchObject([{ stands: 'asked' }]);
    for (let clicks = 0; clicks < 3; clicks++) bench.turn(1);
    bench.seconds(2);
    expect(left).toBe(1);
  });

  it('is told by the laptop, which takes nothing of it for a log', async () => {
    const pair = new LaptopAndBoard({ flash: newerFlash() });
    const collected = pair.with(async (board) => {
      for await (const batch of board.collect(0)) expect(batch).toBe('nothing');
    });
    await expect(collected).rejects.toThrow(/flash format 7, firmware knows 1: update the firmware/);
  });
});

describe('the format of a flash', () => {
  it('is written to every sector and every document, where the first format had nothing', () => {
    const flash = seedFlash(1);
    const old = sectorsOf(flash, 'Shf1').length;
    const { board } = new LaptopAndBoard({ flash });
    const bench = new EveningBench(board);
    bench.greet();
    bench.ask({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 1 });
    bench.seconds(2);
    const shelf = sectorsOf(flash, 'Shf1');
    expect(shelf.length).toBeGreaterThan(old);
    const written = [...mark(storageFormat)];
    const marked = shelf.filter((at) => `${[...flash.read(at + BEHIND_MARK, 2)]}` === `${written}`);
    expect(marked).toHaveLength(shelf.length - old);
    // The document went into the sector that the first firmware had made ready.
    const headers = shelf.map((at) => [...flash.read(at + BEHIND_HEADER, 2)]);
    expect(headers).toContainEqual(written);
  });

  // A bit that rots must not lock a printer out of a good flash.
  it('is not taken for a newer one where a bit of it has rotted', async () => {
    for (let bit = 0; bit < 16; bit++) {
      const flash = seedFlash(1);
      for (const magic of ['Log1', 'Tly1', 'Shf1'])
        for (const at of sectorsOf(flash, magic))
          flash.flipBits(at + BEHIND_MARK + (bit >> 3), 1 << (bit & 7));
      const recipes = await new LaptopAndBoard({ flash }).with((board) => board.listRecipes());
      expect(recipes).toHaveLength(seedHeld(1).recipes.length);
    }
  });
});
