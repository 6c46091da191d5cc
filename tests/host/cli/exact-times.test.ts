import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdPedal, tapPedal } from '../../../host/board/sim/controls.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadle } from './treadle.js';

const plain = {
  title: 'Weir',
  base: '10s',
  passes: [
    { kind: 'base', filter: '2', stops: '0' },
    { kind: 'burn', label: 'sky', filter: '00', stops: '+1' },
  ],
};

/** Chooses the recipe at the knob, prints it, and answers each light of the lamp in milliseconds. */
function print({ board }: BoardAtAPort, name: string): number[] {
  holdPedal(board, 900);
  board.advanceUs(3_000_000);
  tapPedal(board);
  holdPedal(board, 900);
  board.knobTurn(-24);
  for (let clicks = 0; clicks < 30 && !board.panel[2]!.startsWith(name); clicks++) {
    board.advanceUs(300_000);
    board.knobTurn(1);
  }
  expect(board.panel[2]!.trim()).toBe(name);
  const from = board.lampEdges.length;
  for (let taps = 0; taps < 16 && !board.panel[0]!.startsWith('Tap again'); taps++) {
    tapPedal(board);
    board.advanceUs(25_000_000);
  }
  const edges = board.lampEdges.slice(from);
  holdPedal(board, 900);
  board.advanceUs(3_000_000);
  // Its time had gone ahead of the laptop's: they go on together from here.
  board.runAt(20);
  return edges.flatMap(({ on, atUs }, at) => (on ? [] : [(atUs - edges[at - 1]!.atUs) / 1000]));
}

// A split to 12.000 s was given as 11.986 s, and a burn that a filter makes 20.00 s as 19.97 s: offsets were whole 1/120 stop.
describe('what a command says a time is, the lamp gives, at a pseudo-terminal:', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
    writeFileSync(desk.file('weir.json'), JSON.stringify(plain));
  });
  afterAll(() => desk.close());

  it('12.000 s of a split, and its burn as it was', async () => {
    const [from, to] = [desk.file('weir.json'), desk.file('split.json')];
    const ran = await treadle(['split', from, '--soft', '00:8s', '--hard', '5:12s', '--output', to]);
    expect(ran.out).toContain('then 12.000 s through filter 5, +0.584963 stop from the base');
    expect(ran.out).toContain('so that it stays 10.000 s');
    writeFileSync(to, JSON.stringify({ ...JSON.parse(readFileSync(to, 'utf8')), name: 'split' }));
    expect(await desk.treadleWithArchive('send', to)).toMatchObject({ code: 0 });
    expect(print(desk, 'split')).toEqual([8_000, 12_000, 10_000]);
  });

  it('20.000 s of a burn through another filter', async () => {
    const [from, to] = [desk.file('weir.json'), desk.file('harder.json')];
    const ran = await treadle(['filter', from, '--pass', '2', '--to', '4', '--output', to]);
    expect(ran.out).toContain('20.000 s');
    writeFileSync(to, JSON.stringify({ ...JSON.parse(readFileSync(to, 'utf8')), name: 'harder' }));
    expect(await desk.treadleWithArchive('send', to)).toMatchObject({ code: 0 });
    expect(print(desk, 'harder')).toEqual([10_000, 20_000]);
  });

  it('and the same comes back from the board, the archive and the log', async () => {
    const sent = readRecipe(readFileSync(desk.file('split.json')));
    const saved = desk.file('saved.json');
    expect(await desk.treadle('save', 'split', '--output', saved)).toMatchObject({ code: 0 });
    const offsets = (path: string) => readRecipe(readFileSync(path)).passes.map(({ stops120 }) => stops120);
    expect(offsets(saved)).toEqual(sent.passes.map(({ stops120 }) => stops120));
    expect(await desk.treadleWithArchive('collect')).toMatchObject({ code: 0 });
    const again = await treadle(['again', '1', '--archive', desk.archive, '--json']);
    expect(JSON.parse(again.out)).toMatchObject({
      differences: [],
      recipe: { base: '8s', passes: [{ stops: '0' }, { stops: '+0.584963' }, {}] },
    });
    const compared = await treadle(['compare', '1', '2', '--archive', desk.archive]);
    expect(compared.out).toMatch(/^base hard +\+0\.58 /m);
  });
});
