import { expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

// A dodge was turned for one print, the recipe chosen anew, and the next print given without: the log said nothing of it,
// so that nobody could tell from it what the second print had got.
it('the log tells that a recipe was taken anew and what was turned of it is gone, before the sheet', () => {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  const giveSheet = () => {
    bench.tap();
    bench.answer();
    for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
      bench.tap();
      bench.answer();
      bench.seconds(40);
    }
    bench.hold();
  };
  bench.print(boathouse);
  giveSheet();
  expect(entries(bench, 'recipe-taken')).toEqual([]);
  bench.tap();
  bench.answer();
  bench.push();
  bench.turn(2);
  giveSheet();
  bench.print(boathouse);
  giveSheet();
  const told = bench
    .log()
    .filter(({ type }) => ['recipe-change', 'recipe-taken', 'sheet'].includes(type))
    .map((entry) => [entry.type, 'baseMs' in entry ? entry.baseMs : 'version' in entry && entry.version]);
  expect(told).toEqual([
    ['sheet', boathouse.baseMs],
    ['recipe-change', expect.any(Number)],
    ['sheet', expect.any(Number)],
    ['recipe-taken', 1],
    ['sheet', boathouse.baseMs],
  ]);
});
