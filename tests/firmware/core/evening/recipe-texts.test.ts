import { expect, it } from 'vitest';
import type { Message } from '../../../../shared-protocol/index.js';
import { Conversation, wholeOf } from '../session/conversation.js';
import { boathouse } from './boathouse.js';
import { type BenchRecipe, EveningBench } from './evening-bench.js';

/** As long as texts may be, in letters that take most room. */
const texts = { title: '→'.repeat(24), negative: '→'.repeat(24), paper: '→'.repeat(24) };

/** Each row at each moment of a print with all its lights, and the knob at each figure of it. */
function printOf(recipe: BenchRecipe): unknown {
  const bench = new EveningBench();
  bench.greet();
  bench.print(recipe);
  bench.focusAndStopDown();
  const rows: string[][] = [];
  for (let pushes = 0; pushes < 5; pushes++) {
    bench.push();
    rows.push(bench.panel);
  }
  bench.tap();
  for (let steps = 0; steps < 90 && !bench.panel[0]!.startsWith('Tap again'); steps++) {
    rows.push(bench.panel);
    bench.answer();
    bench.tap();
    bench.seconds(0.5);
    rows.push(bench.panel);
    bench.seconds(4);
  }
  expect(bench.panel[0]).toMatch(/^Tap again/);
  expect(rows.flat()).toContain('jetty');
  return { rows, pulses: bench.pulses };
}

it('what a recipe says of itself changes nothing of what it gives, and of what is called how', () => {
  expect(printOf({ ...boathouse, texts })).toEqual(printOf(boathouse));
});

it('a print that is kept under another name is byte for byte what a laptop would have sent under it', () => {
  const bench = new EveningBench();
  bench.greet();
  bench.print({ ...boathouse, name: 'skelder-mere-at-dusk', texts });
  bench.focusAndStopDown();
  bench.keep(1);
  const [listed] = bench
    .ask({ type: 'recipe-list', id: 0 })
    .filter((line) => line.type === 'recipe-line' && line.name === 'negative-1');
  expect(listed).toMatchObject({ baseMs: boathouse.baseMs, intact: true });
  const parts = bench
    .ask({ type: 'recipe-get', id: 0, name: 'negative-1' })
    .filter(({ type }) => type !== 'ended')
    .map((part, at): Message => ({ ...part, id: 100 + at }));
  const board = Conversation.greeted();
  for (const part of [...parts, { type: 'recipe-commit', id: 200, whole: wholeOf(parts) } as const])
    expect(board.say(part)).toMatchObject([{ type: 'ok' }]);
  expect(board.say({ type: 'recipe-list', id: 201 })[0]).toEqual({ ...listed, id: 201 });
});
