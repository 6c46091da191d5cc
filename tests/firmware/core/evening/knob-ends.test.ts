import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';
import { works } from './random-evening.js';
import { makeReady, turnSlowly } from './slow-clicks.js';

const worksAndClock = [...works, 'clock'] as const;
/** The most that any kind of work has figures. */
const FIGURES = 9;
/** From one end of any figure to the other. */
const MOST_CLICKS = 400;

/** Ready for the first light, or the first bath. */
function begin(job: (typeof worksAndClock)[number]): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const bath of [1, 2] as const)
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath, baths: 2, label: `bath ${bath}`, limitCm2: 5000 },
      ...{ resinCoatedSeconds: 90, fibreSeconds: 120, drainSeconds: 10, agitationSeconds: 30 },
    });
  makeReady(bench, job);
  return bench;
}

/** Times so near that they look the same follow one another at the short end. */
const ALIKE = 3;

/** Every screen on the way, until the knob goes no further. */
function wayOf(bench: EveningBench, way: number): string[] {
  const screens = [bench.panel.join('|')];
  for (let alike = 0; alike < ALIKE && screens.length <= MOST_CLICKS; ) {
    const next = turnSlowly(bench, way, 0.2);
    alike = next === screens.at(-1) ? alike + 1 : 0;
    if (alike === 0) screens.push(next);
  }
  return screens;
}

// A knob turned past the end of a time once came back by other times, and to another than it began with.
describe('the knob, at each of its figures', () => {
  it.each(worksAndClock)('of %s, comes to an end either way, and back by the same screens', (job) => {
    const bench = begin(job);
    const seen = new Set<string>();
    for (let figure = 0; figure < FIGURES; figure++) {
      bench.push();
      const name = `${bench.panel[2]} ${bench.panel[3]}`;
      if (seen.has(name)) break;
      seen.add(name);
      // What was turned is asked for, even where it is as it was.
      turnSlowly(bench, 1, 0.2);
      const start = turnSlowly(bench, -1, 0.2);
      const up = wayOf(bench, 1);
      if (up.length > MOST_CLICKS) continue; // it goes round
      const down = wayOf(bench, -1);
      expect(down.slice(0, up.length)).toEqual(up.toReversed());
      const upAgain = wayOf(bench, 1);
      expect(upAgain).toEqual(down.toReversed());
      for (let click = 0; bench.panel.join('|') !== start && click < MOST_CLICKS; click++)
        turnSlowly(bench, -1, 0.2);
      expect(bench.panel.join('|')).toBe(start);
    }
    expect(bench.board.lampOn).toBe(false);
    expect(seen.size).toBeGreaterThan(0);
  });
});

describe('the knob, while light falls on paper', () => {
  /** The first light, with or without hands at the knob, and all that came of it. */
  function light(job: (typeof worksAndClock)[number], touched: boolean): unknown {
    const bench = begin(job);
    bench.answer();
    bench.tap();
    bench.seconds(0.5);
    expect(bench.board.lampOn).toBe(true);
    if (touched) {
      bench.push();
      bench.holdKnob();
      bench.turn(3);
    } else bench.seconds(1);
    expect(bench.board.lampOn).toBe(true);
    bench.board.advanceUs(60_000_000 - bench.board.nowUs);
    const log = bench.log().map((entry) => ({ ...entry, id: 0, uptimeMs: 0 }));
    return [bench.panel, bench.pulses, log];
  }
  it.each(['recipe', 'plain', 'bracket', 'lamp-test'] as const)('of %s, is not heard', (job) => {
    expect(light(job, true)).toEqual(light(job, false));
  });
});

describe('a plain exposure by the knob', () => {
  const at = (pushes: number) => {
    const bench = begin('plain');
    for (let push = 0; push < pushes; push++) bench.push();
    return bench;
  };

  // Source: the filters of the usual sets, softest first (common practice).
  it('has each filter of the usual sets, from the softest to the hardest, and none before them', () => {
    const bench = at(3);
    const filters = Array.from({ length: 13 }, (_, click) => {
      if (click > 0) turnSlowly(bench, 1, 0.2);
      return bench.panel[1]!.replace(/^10\.00 s */, '');
    });
    const set = ['00', '0', '1', '1 1/2', '2', '2 1/2', '3', '3 1/2', '4', '4 1/2', '5'];
    expect(filters).toEqual(['', ...set.map((filter) => `filter ${filter}`), 'filter 5']);
  });

  it('goes up to an hour and down again by the same times, and gives each as it shows it', () => {
    const bench = at(1);
    const time = () => Number(/^[\d.]+(?= s)/.exec(bench.panel[1]!)![0]);
    const up = [time()];
    for (let end = false; !end; ) {
      turnSlowly(bench, 1, 0.2);
      end = time() === up.at(-1);
      if (!end) up.push(time());
    }
    expect(up.at(-1)).toBe(3600);
    const down = up.toReversed().map((_, click) => {
      if (click > 0) turnSlowly(bench, -1, 0.2);
      return time();
    });
    expect(down).toEqual(up.toReversed());
    const steps = up.slice(1).map((seconds, index) => seconds - up[index]!);
    expect(steps).toEqual(steps.toSorted((one, other) => one - other));
  });
});
