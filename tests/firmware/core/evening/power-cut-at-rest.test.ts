import { expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';
import { choose, give, lens, push, type Step, turn } from './evening-steps.js';

// No outside source: an evening is held against the same evening in which the power went where nothing was under way.

/** What is given, then what is read on it, with all that the knob changed before. */
const evenings: Readonly<Record<string, readonly Step[]>> = {
  strip: [choose('strip'), give(6), push, turn(-4), push, turn(1)],
  bracket: [choose('bracket'), give(9), push, turn(-3), push, turn(1)],
  'lamp test': [choose('lamp-test'), give(8), push, turn(-5), push],
};

function shownIn(steps: readonly Step[], cutAfter?: number): unknown {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  const screens: string[] = [];
  for (const [index, step] of steps.entries()) {
    step(bench);
    bench.seconds(2);
    if (index === cutAfter) {
      bench.board.cutPower();
      bench.board.restorePower();
      bench.seconds(1);
    }
    lens(bench);
    bench.seconds(1);
    if (index === steps.length - 2) screens.push(bench.panel.slice(1).join('|'));
  }
  bench.greet();
  const settings = bench
    .ask({ type: 'get-setting', id: 0, name: 'lamp-lag-ms' })
    .map(({ id: _, ...line }) => line);
  const found = bench
    .log()
    .flatMap((entry) =>
      entry.type === 'strip-reading' || entry.type === 'test-result' || entry.type === 'recipe-change'
        ? [{ ...entry, id: 0, seq: 0, boot: 0, uptimeMs: 0 }]
        : [],
    );
  return { screens, settings, found };
}

it.each(Object.keys(evenings))(
  'a %s that waits to be read is read the same after the power was off',
  (name) => {
    const steps = evenings[name]!;
    const asEver = shownIn(steps);
    expect((asEver as { found: unknown[] }).found.length).toBeGreaterThan(0);
    expect(shownIn(steps, 1)).toEqual(asEver);
  },
);
