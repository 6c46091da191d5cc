import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pushKnob } from '../../../host/board/sim/controls.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadle } from './treadle.js';

const HELD_MS = 900;

/** All the way to the left is the clock, and beside it the plain exposure, which is kept as it stands. */
function keepPlainExposure({ board }: BoardAtAPort): void {
  board.knobTurn(-24);
  board.knobTurn(1);
  pushKnob(board, HELD_MS);
  pushKnob(board);
  board.advanceUs(2_000_000);
}

describe('a print that was kept without a laptop', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
    keepPlainExposure(desk);
  });
  afterAll(() => desk.close());

  it('is on the board under its number', async () => {
    expect((await desk.treadle('recipes')).out).toMatch(/negative-1/);
  });

  // It had neither a title nor a label, and saving it ended in an internal error.
  it('is saved as an ordinary recipe, which is sent back as it is', async () => {
    const file = desk.file('negative-1.json');
    expect(await desk.treadle('save', 'negative-1', '--output', file)).toMatchObject({ code: 0 });
    const saved = JSON.parse(readFileSync(file, 'utf8'));
    expect(saved).toMatchObject({ name: 'negative-1', version: 1, base: '10s' });
    expect(saved.passes).toMatchObject([{ kind: 'base', label: 'whole sheet' }]);
    expect(await treadle(['check', file])).toMatchObject({ code: 0 });
    expect(await desk.treadle('send', file)).toMatchObject({ code: 0 });
  });
});
