import { describe, expect, it } from 'vitest';
import type { BenchRecipe } from './evening-bench.js';
import { EveningBench } from './evening-bench.js';

// log2(12 / 8), log2(1 + 20 / 8) and log2(1 - 3 / 8) in 1/120 stop, computed, to a millionth of a stop.
const HARD = 120 * 0.584963;
const SKY = 120 * 1.807355;
const FACE = 120 * -0.678072;
const finely = (stops120: number) => Math.round(stops120 * 25_000) / 25_000;

const split: BenchRecipe = {
  name: 'split',
  baseMs: 8_000,
  passes: [
    {
      ...({ kind: 'base', label: 'soft', filter: '' } as const),
      stops120: 0,
      dodges: [{ label: 'face', stops120: finely(FACE) }],
    },
    { kind: 'base', label: 'hard', filter: '', stops120: finely(HARD) },
    { kind: 'burn', label: 'sky', filter: '', stops120: finely(SKY) },
  ],
};

function ready(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(split);
  bench.focusAndStopDown();
  return bench;
}

/** Lamp times of the whole print, to the millisecond. */
function print(bench: EveningBench): number[] {
  const before = bench.pulses.length;
  bench.tap();
  bench.answer();
  for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(50);
  }
  return bench.pulses.slice(before).map((us) => us / 1000);
}

const planned = (bench: EveningBench) =>
  bench
    .log()
    .flatMap((entry) => (entry.type === 'exposure' && entry.kind !== 'focus' ? [entry.plannedMs] : []));

/** The whole lines that the board tells of a recipe, without their numbers. */
const told = (bench: EveningBench, name: string) =>
  bench.ask({ type: 'recipe-get', id: 0, name }).map(({ id: _, ...line }) => line);

const fineOf = (bench: EveningBench, name: string) =>
  told(bench, name).flatMap((line) => (line.type === 'recipe-fine' ? [line.fine3M] : []));

describe('an offset that came of a time', () => {
  // A split to 12.000 s was given as 11.986 s, the nearest that whole 1/120 stop can say.
  it('is given to the millisecond, and the log has what was planned', () => {
    const bench = ready();
    expect(print(bench)).toEqual([3_000, 5_000, 12_000, 20_000]);
    expect(planned(bench)).toEqual([8_000, 12_000, 20_000]);
  });

  it('scales with the base, as every other offset', () => {
    const bench = ready();
    bench.push();
    bench.turn(12); // twelve clicks of 1/12: the base is 16 s
    bench.seconds(1);
    expect(bench.panel[1]).toContain('16.00 s');
    bench.hold();
    for (const [at, ms] of print(bench).entries())
      expect(Math.abs(ms - [6_000, 10_000, 24_000, 40_000][at]!)).toBeLessThanOrEqual(1);
  });

  it('comes back whole from the board, and a recipe without any has no line more than before', () => {
    const bench = ready();
    const fine = [0, finely(HARD), finely(SKY), finely(FACE)];
    expect(fineOf(bench, 'split')).toEqual(
      fine.map((stops120) => Math.round((stops120 - Math.round(stops120)) * 25_000)),
    );
    const passes = split.passes.map((pass) => ({ ...pass, stops120: Math.round(pass.stops120), dodges: [] }));
    bench.print({ ...split, name: 'plain', passes });
    expect(told(bench, 'plain').map(({ type }) => type)).not.toContain('recipe-fine');
  });

  it.each([0, 1, 2, 3])('comes back where it is the only one, offset %i of the recipe', (only) => {
    const bench = ready();
    const offsets = [HARD, HARD, SKY, FACE].map((stops120, at) =>
      at === only ? finely(stops120) : Math.round(stops120),
    );
    const passes = split.passes.map((pass, at) => ({
      ...pass,
      stops120: offsets[at]!,
      ...(pass.dodges && { dodges: [{ label: 'face', stops120: offsets[3]! }] }),
    }));
    bench.send({ ...split, name: 'one', passes });
    const lines = told(bench, 'one').flatMap((line) =>
      line.type === 'recipe-fine' && line.fine3M !== 0 ? [line] : [],
    );
    const fine = offsets[only]!;
    expect(lines).toMatchObject([
      { offset: only + 1, fine3M: Math.round((fine - Math.round(fine)) * 25_000) },
    ]);
  });

  it('is kept with the print on the panel, also where the knob turned it: it is back where it was when the knob is', () => {
    const bench = ready();
    bench.pushTo('this pass');
    bench.turn(1);
    bench.seconds(1);
    bench.turn(-1);
    bench.seconds(1);
    expect(bench.panel.slice(1, 3)).toEqual(['+0.585 stop', 'hard']);
    bench.turn(1);
    expect(bench.panel[1]).toBe('+0.668 stop');
    bench.seconds(1);
    bench.hold();
    const fine = fineOf(bench, 'split');
    bench.keep();
    expect(fineOf(bench, 'split')).toEqual(fine);
    const pass = told(bench, 'split').find((line) => line.type === 'recipe-pass' && line.pass === 2);
    expect(pass).toMatchObject({ stops120: 80 });
    // 8 x 2^(0.584963 + 1/12), by definition.
    expect(print(bench)[2]).toBe(12_714);
    expect(planned(bench)).toContain(12_714);
  });

  // 8 x 2^(0.002) is 8.011 s, and 8 x 2^(-0.002) is 7.989 s, by definition. The panel had said +0.002 of both.
  it.each([
    ['above', 0.24, '+0.002 stop', 8_011],
    ['below', -0.24, '-0.002 stop', 7_989],
  ])('is %s the base where it is nothing but a fine part, and the panel says so', (_, stops120, said, ms) => {
    const bench = new EveningBench();
    bench.greet();
    const passes = [{ kind: 'base', label: 'hard', filter: '', stops120 } as const];
    bench.print({ name: 'near', baseMs: 8_000, passes });
    bench.focusAndStopDown();
    bench.tap();
    bench.pushTo('Knob: this pass');
    expect(bench.panel.slice(1, 3)).toEqual([said, 'hard']);
    bench.hold();
    expect(print(bench)).toEqual([ms]);
  });

  it('stays with a dodge that the knob turned and turned back', () => {
    const bench = ready();
    const fine = fineOf(bench, 'split');
    bench.pushTo('Knob: this dodge');
    bench.turn(1);
    bench.seconds(1);
    expect(bench.panel[1]).toBe('-0.595 stop'); // a click is 1/12
    bench.turn(-1);
    bench.seconds(1);
    expect(bench.panel.slice(1, 3)).toEqual(['-0.678 stop', 'face']);
    bench.hold();
    expect(fineOf(bench, 'split')).toEqual(fine);
    expect(print(bench)).toEqual([3_000, 5_000, 12_000, 20_000]);
  });
});
