import { describe, expect, it } from 'vitest';
import { markOfFullLog } from '../../../setup/full-log.js';
import { boathouse } from './boathouse.js';
import { type BenchRecipe, EveningBench } from './evening-bench.js';

function dark(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.focusAndStopDown();
  return bench;
}

const base = { kind: 'base', label: '', filter: '', stops120: 0 } as const;
const half = (label: string) => ({ label, stops120: -120 });

/** Each is a recipe that may be kept, and that no lamp can give as it is. */
const notToBeGiven: readonly (readonly [why: string, said: string, recipe: BenchRecipe])[] = [
  [
    'a burn of 12 ms, shorter than a relay closes', // 2 s x (2^(1/120) - 1)
    'Too short for a lamp',
    { name: 'short', baseMs: 2_000, passes: [base, { ...base, kind: 'burn', stops120: 1 }] },
  ],
  [
    'a pass of 8000 s, where the longest is an hour', // 1000 s x 2^3
    'Longer than an hour',
    { name: 'long', baseMs: 1_000_000, passes: [{ ...base, stops120: 360 }] },
  ],
  [
    'three dodges of half the pass each',
    'Dodges too long',
    {
      name: 'dodges',
      baseMs: 10_000,
      passes: [{ ...base, dodges: [half('a'), half('b'), half('c')] }],
    },
  ],
  [
    'a burn of less than nothing',
    'Too many stops',
    { name: 'less', baseMs: 10_000, passes: [base, { ...base, kind: 'burn', stops120: -120 }] },
  ],
];

describe('a recipe that cannot be given', () => {
  it.each(notToBeGiven)('(%s) says so on the panel, and no tap lights it', (_, said, recipe) => {
    const bench = dark();
    bench.print(recipe);
    expect(bench.panel[3]).toBe(said);
    const before = bench.pulses.length;
    for (let taps = 0; taps < 4; taps++) bench.tap();
    bench.seconds(3);
    expect(bench.board.lampOn).toBe(false);
    expect(bench.pulses).toHaveLength(before);
  });

  it('as a bracket, since its last variant is longer than an hour, says so, and can be given as a print', () => {
    const bench = dark();
    bench.print({ name: 'longest', baseMs: 3_000_000, passes: [base] }); // x 2^(2/6), the fifth of five about it, is 3780 s
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    bench.turn(1);
    expect(bench.panel[2]).toBe('5 variants, 1/6 st');
    expect(bench.panel[3]).toBe('Longer than an hour');
    bench.tap();
    bench.tap();
    expect(bench.board.lampOn).toBe(false);
    bench.turn(-1);
    expect(bench.panel[0]).toBe('Tap print Hold focus');
  });

  it('is offered again as soon as another that can be given is chosen', () => {
    const bench = dark();
    bench.print(notToBeGiven[0]![2]);
    bench.print(boathouse);
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    bench.tap();
    bench.answer();
    bench.tap();
    expect(bench.board.lampOn).toBe(true);
  });
});

describe('a log that is full', () => {
  it('is collected, and the panel offers light again, with nobody at pedal or knob', () => {
    const bench = dark();
    bench.board.cutPower();
    const { offset, mark } = markOfFullLog(0);
    bench.board.flash.program(offset, mark);
    bench.board.restorePower();
    bench.seconds(1);
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Turn knob Hold focus', 'Log full: collect it']);
    bench.greet();
    bench.ask({ type: 'forget', id: 0, uptoSeq: bench.log().at(-1)!.seq });
    bench.seconds(1);
    expect(bench.panel[0]).toBe('Tap lens Hold focus');
    expect(bench.panel[3]).not.toContain('Log full');
  });
});
