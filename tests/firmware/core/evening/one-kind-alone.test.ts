import { expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { EveningBench } from './evening-bench.js';
import { works } from './random-evening.js';

// No outside source: each kind of work is held against itself on a board where nothing else was turned.

type Work = (typeof works)[number];
/** The most that any kind of work has figures. */
const FIGURES = 9;

function board(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  return bench;
}

/** At rest, ready, and at each figure; no light is given. */
function screensOf(bench: EveningBench, job: Work): string[] {
  chooseWork(bench, job);
  const screens = [bench.panel.join('|')];
  bench.tap();
  bench.seconds(1);
  for (let figure = 0; figure <= FIGURES; figure++) {
    screens.push(bench.panel.join('|'));
    bench.push();
  }
  bench.hold();
  bench.seconds(1);
  return screens;
}

/** Each of its figures a click on, but the order of what comes. */
function turnAll(bench: EveningBench, job: Work): void {
  chooseWork(bench, job);
  bench.tap();
  bench.seconds(1);
  for (let figure = 0; figure < FIGURES; figure++) {
    bench.push();
    bench.turn(1);
    bench.seconds(0.5);
  }
  bench.hold();
  bench.seconds(2);
}

/** The print's own figures are the bracket's passes; both tests have the grey that was found for the paper. */
const areOne = (turned: Work, other: Work) =>
  (turned === 'recipe' && other === 'bracket') ||
  (turned.endsWith('light-test') && other.endsWith('light-test'));
/** The others: a recipe is taken from the shelf anew when it is chosen by name, and baths have settings. */
const REMEMBERED: readonly Work[] = [
  'strip',
  'lamp-test',
  'bracket',
  'plain',
  'safelight-test',
  'stray-light-test',
];
const asEver = new Map<Work, string[]>();

it.each(works)('what the knob turns in %s is turned there, and in no other kind of work', (turned) => {
  const bench = board();
  turnAll(bench, turned);
  for (const other of works) {
    if (!asEver.has(other)) asEver.set(other, screensOf(board(), other));
    const screens = screensOf(bench, other);
    if (turned === other)
      expect([other, screens.join() !== asEver.get(other)!.join()]).toEqual([
        other,
        REMEMBERED.includes(other),
      ]);
    else if (!areOne(turned, other)) expect(screens, other).toEqual(asEver.get(other));
  }
});
