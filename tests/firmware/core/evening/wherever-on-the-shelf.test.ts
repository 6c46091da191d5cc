import { expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

// No outside source: an evening is held against the same evening on a board whose shelf's turn has come round elsewhere.

class FlashOf extends Flash {
  constructor(bytes: Uint8Array) {
    super();
    this.store(0, bytes);
  }
}

/** Flashes whose shelf has been gone along by so many documents, and on which nothing is. */
function flashesWornBy(documents: readonly number[]): Flash[] {
  const bench = new EveningBench();
  const name = (name: string) => bench.askAtOnce({ type: 'name-set', id: 0, name }, 100_000);
  let written = 0;
  bench.greet();
  return documents.map((count) => {
    for (; written < count; written++) name(`board ${written}`);
    name('');
    const { flash } = bench.board;
    return new FlashOf(flash.read(0, flash.size));
  });
}

/** All that an evening asks of the shelf by knob, pedal and line, as it is seen and told. */
function eveningOn(flash: Flash): unknown[] {
  const bench = new EveningBench(new SimulatedBoard({ flash }));
  const told: unknown[] = [];
  const look = () => told.push(bench.panel);
  const turn = (...clicks: number[]) => {
    for (const each of clicks) {
      bench.turn(each);
      bench.seconds(0.3);
      look();
    }
  };
  const ask = (...messages: Parameters<EveningBench['ask']>) => told.push(bench.ask(...messages));
  bench.greet();
  ask({ type: 'name-set', id: 0, name: 'garage' });
  for (const name of ['cliff', 'boathouse', 'ashdown']) bench.print({ ...boathouse, name });
  ask({ type: 'recipe-list', id: 0 });
  for (const name of ['cliff', 'boathouse', 'ashdown']) ask({ type: 'recipe-get', id: 0, name });
  turn(1, 1, 1, -1, -1, -1, -9, 4);
  bench.focusAndStopDown();
  // A base is found and kept, another is found and set aside; what is on the shelf is offered and asked for again.
  findBase(bench);
  turn(1);
  bench.holdKnob();
  look();
  turn(1, 1, -1, -1);
  bench.push();
  bench.seconds(2);
  turn(-20, 4);
  findBase(bench);
  turn(1);
  ask({ type: 'choose', id: 0, job: 'recipe', name: 'cliff' });
  bench.seconds(2);
  ask({ type: 'recipe-list', id: 0 });
  bench.holdKnob();
  turn(1, 1);
  bench.holdKnob();
  for (const name of ['boathouse', 'cliff']) ask({ type: 'recipe-remove', id: 0, name });
  turn(-1, 1, 1, 1, 1);
  bench.board.cutPower();
  bench.board.restorePower();
  bench.seconds(1);
  turn(-2, 1, 1, 1, 1);
  bench.greet();
  for (const type of ['name-get', 'recipe-list'] as const) ask({ type, id: 0 });
  ask({ type: 'name-set', id: 0, name: '' });
  ask({ type: 'name-get', id: 0 });
  return [told, bench.log()];
}

/** A strip, read at the patch that is two before its last. */
function findBase(bench: EveningBench): void {
  bench.tap();
  for (let patch = 0; patch < 12 && !bench.panel[0]!.startsWith('Tap again'); patch++) {
    bench.tap();
    bench.seconds(70);
  }
  for (const clicks of [1, -20, 7]) bench.turn(clicks);
  bench.push();
  bench.seconds(1);
}

it('an evening is the same wherever on the shelf its documents come to lie', () => {
  // In the first of the 96 sectors, which comes after the last, lies: nothing; what was set aside, what was kept, a recipe each, the name.
  const [fresh, ...worn] = flashesWornBy([0, 64, 81, 92, 93, 94, 95]);
  const asEver = eveningOn(fresh!);
  for (const flash of worn) expect(eveningOn(flash)).toEqual(asEver);
});
