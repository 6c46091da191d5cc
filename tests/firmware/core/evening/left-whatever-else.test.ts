import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { EveningBench } from './evening-bench.js';

// No outside source: a sheet that is gone on with is held against the same sheet with which nothing came between.

const lit = ['strip', 'recipe', 'bracket', 'lamp-test'] as const;
type Work = (typeof lit)[number] | 'plain' | 'safelight-test';
type Step = (bench: EveningBench) => void;

const LIGHTS = 12;

function give(bench: EveningBench): void {
  if (bench.panel[0]!.startsWith('Tap lens')) {
    bench.tap();
    bench.hold();
  }
  bench.answer();
  bench.tap();
  bench.seconds(70);
}

/** Every figure of that kind of work is turned, and the sheet never lit. */
function turnFigures(bench: EveningBench, job: Work): void {
  chooseWork(bench, job);
  bench.tap();
  bench.seconds(1);
  for (let figure = 0; figure < 6; figure++) {
    bench.push();
    bench.turn(3);
    bench.seconds(0.5);
  }
  bench.hold();
  bench.seconds(1);
}

const otherStrip: Step = (bench) => {
  const times = { firstMs: 3210, stepStops120: 15, stepMs: 0, patches: 9 } as const;
  bench.ask({ type: 'strip-set', id: 0, ...times, cover: 'separate', filter: '4 1/2' });
};
const otherRecipe: Step = (bench) => {
  bench.print({ ...boathouse, name: 'weir-by-night', baseMs: 20_000, passes: boathouse.passes.slice(0, 2) });
};

function powerOff(bench: EveningBench): void {
  bench.board.cutPower();
  bench.board.restorePower();
  bench.seconds(2);
  bench.greet();
}

/** What comes between a sheet that is left and the tap that goes on with it. */
const between: Readonly<Record<string, Step>> = {
  'another strip': otherStrip,
  'another recipe': otherRecipe,
  'figures of the strip': (bench) => turnFigures(bench, 'strip'),
  'figures of the print': (bench) => turnFigures(bench, 'recipe'),
  'figures of the bracket': (bench) => turnFigures(bench, 'bracket'),
  'figures of a plain exposure': (bench) => turnFigures(bench, 'plain'),
  // It was given up for another that never saw light, as soon as the foot came down.
  'a hold out of another sheet': (bench) => {
    chooseWork(bench, 'plain');
    bench.tap();
    bench.seconds(5);
    bench.hold();
    bench.seconds(2);
  },
  'the power off': (bench) => {
    bench.seconds(3);
    powerOff(bench);
  },
  'the power off while another sheet waits': (bench) => {
    chooseWork(bench, 'plain');
    bench.tap();
    bench.seconds(5);
    powerOff(bench);
  },
  'the power off behind another sheet': (bench) => {
    chooseWork(bench, 'plain');
    bench.tap();
    bench.seconds(1);
    bench.hold();
    powerOff(bench);
  },
};

/** Screens and pulses from the moment at which the sheet is gone on with. */
function goneOnWith(job: Work, lights: number, come: Step): unknown {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.print(boathouse);
  chooseWork(bench, job);
  bench.tap();
  for (let light = 0; light < lights; light++) give(bench);
  bench.hold();
  bench.seconds(3);
  come(bench);
  for (let turn = 0; turn < 12; turn++) bench.turn(-9);
  const before = bench.pulses.length;
  expect(bench.panel[0], bench.panel.join('|')).toBe('Tap go on Hold focus');
  bench.tap();
  bench.seconds(1);
  const screens: string[] = [];
  for (let light = 0; light < LIGHTS && !/^Tap (again|read)/.test(bench.panel[0]!); light++) {
    // Which filter is in nobody knows after power-up.
    bench.answer();
    screens.push(bench.panel.join('|'));
    give(bench);
  }
  screens.push(bench.panel.join('|'));
  return { screens, pulses: bench.pulses.slice(before) };
}

describe.each(lit)('a sheet of the %s that was left goes on as it was', (job) => {
  const asEver = new Map<number, unknown>();
  it.each(Object.keys(between))('with %s in between', (name) => {
    for (const lights of [1, 2]) {
      if (!asEver.has(lights))
        asEver.set(
          lights,
          goneOnWith(job, lights, () => {}),
        );
      expect(goneOnWith(job, lights, between[name]!)).toEqual(asEver.get(lights));
    }
  });
});
