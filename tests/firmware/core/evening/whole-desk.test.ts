import { expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';
import { choose, give, hold, push, type Step, turn } from './evening-steps.js';

// No outside source: what the knob finds at rest is held against the same evening in which the power stayed on.

const setStrip: Step = (bench) => {
  const strip = {
    firstMs: 3210,
    stepStops120: 15,
    stepMs: 0,
    patches: 9,
    cover: 'separate',
    filter: '4',
  } as const;
  bench.ask({ type: 'strip-set', id: 0, ...strip });
};
/** A strip, read between its patches 3 and 4. */
const read: readonly Step[] = [give(6), push, turn(-3), push, hold];
/** A figure of the print, and one further on. */
const changed: readonly Step[] = [
  choose('recipe'),
  (bench) => bench.tap(),
  push,
  turn(2),
  push,
  push,
  turn(1),
  hold,
];

const evenings: Readonly<Record<string, readonly Step[]>> = {
  'a recipe that was changed': changed,
  'a recipe that was changed, and a strip of the laptop': [...changed, setStrip],
  'a base that was found': [choose('strip'), ...read],
  'a base that was found for the recipe in use': [...changed, choose('strip'), ...read],
  'a base that was found for another negative': [...changed, choose('strip'), turn(-1), ...read],
  'a strip that waits to be read': [...changed, choose('strip'), give(6), hold],
  'a strip for another negative that waits to be read': [
    ...changed,
    choose('strip'),
    turn(-1),
    give(6),
    hold,
  ],
  'a bracket that waits to be read': [...changed, choose('bracket'), give(9), hold],
  'a lamp test that waits to be read': [...changed, choose('lamp-test'), give(8), hold],
  'a sheet that was left': [
    ...changed,
    (bench) => bench.tap(),
    (bench) => bench.answer(),
    (bench) => bench.tap(),
    (bench) => bench.seconds(1),
    hold,
  ],
  'a strip that was left, for another negative': [...changed, choose('strip'), turn(-1), give(2), hold],
};

/** From the far left to the far right, and what a push leads to there and back. */
function tour(bench: EveningBench): string[] {
  for (let turns = 0; turns < 4; turns++) bench.turn(-9);
  const screens: string[] = [];
  for (let place = 0; place < 14; place++) {
    bench.seconds(0.5);
    screens.push(bench.panel.join('|'));
    bench.turn(1);
  }
  return screens;
}

function shownAfter(steps: readonly Step[], isCut: boolean): unknown {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.send(boathouse);
  for (const step of steps) step(bench);
  bench.seconds(5);
  if (isCut) {
    bench.board.cutPower();
    bench.board.restorePower();
    bench.seconds(2);
  }
  const atOnce = bench.panel;
  const places = tour(bench);
  bench.greet();
  const names = bench.ask({ type: 'recipe-list', id: 0 }).map((line) => ({ ...line, id: 0 }));
  const paper = bench
    .ask({ type: 'get-setting', id: 0, name: 'lamp-lag-ms' })
    .map((line) => ({ ...line, id: 0 }));
  return { atOnce, places, names, paper };
}

it.each(Object.keys(evenings))('%s lies there after the power was off as if it had stayed on', (name) => {
  const steps = evenings[name]!;
  expect(shownAfter(steps, true)).toEqual(shownAfter(steps, false));
});
