import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const BASE_MS = 12_000;
/** A burn of b stops is base x (2^b - 1), by definition; rounded half up once. */
const burnMs = (stops120: number) => Math.floor(BASE_MS * (2 ** (stops120 / 120) - 1) + 0.5);

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.seconds(1);
  bench.turn(1);
  return bench;
}

/** Knob at the pass: 0 whole sheet, 1 sky, 2 left edge, where it starts. */
function bracketed(bench: EveningBench, pass: number): void {
  bench.tap();
  bench.push();
  bench.turn(pass - 2);
}

function giveAll(bench: EveningBench): void {
  for (let taps = 0; taps < 20 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(40);
  }
}

const exposures = (bench: EveningBench) =>
  entries(bench, 'exposure').filter((entry) => entry.type === 'exposure' && entry.kind !== 'focus');

describe('a bracket', () => {
  it('gives one burn in five variants by sixths of a stop, and all else as the recipe has it', () => {
    const bench = evening();
    bracketed(bench, 1);
    giveAll(bench);
    const versions = [80, 100, 120, 140, 160].map(burnMs);
    const steps = versions.map((ms, at) => ms - (versions[at - 1] ?? 0));
    expect(exposures(bench)).toMatchObject([
      { kind: 'base', pass: 1, patch: 0, label: 'whole sheet', plannedMs: BASE_MS },
      ...steps.map((plannedMs, at) => ({
        ...{ kind: 'bracket', pass: 2, patch: at + 1, label: 'sky', filter: '00', plannedMs },
        doseMs: plannedMs,
      })),
      { kind: 'burn', pass: 3, patch: 0, label: 'left edge', plannedMs: burnMs(60) },
    ]);
    expect(entries(bench, 'sheet')).toMatchObject([
      {
        job: 'bracket',
        recipe: 'boathouse',
        baseMs: BASE_MS,
        stepStops120: 20,
        patches: 5,
        cover: 'cumulative',
      },
    ]);
  });

  it('gives each version alone where the card bares one patch only', () => {
    const bench = evening();
    bracketed(bench, 1);
    for (let figures = 0; figures < 3; figures++) bench.push();
    bench.turn(1);
    giveAll(bench);
    expect(exposures(bench).slice(1, 6)).toMatchObject(
      [80, 100, 120, 140, 160].map((stops120) => ({ kind: 'bracket', plannedMs: burnMs(stops120) })),
    );
  });

  it('tells what to do with the card, and calls it to be moved', () => {
    const bench = evening();
    bracketed(bench, 1);
    for (let taps = 0; taps < 3; taps++) {
      bench.answer();
      bench.tap();
      bench.seconds(20);
    }
    expect(bench.panel).toEqual(['Filter in? Tap', 'Put in 00', 'Take out 2 1/2', 'Pass 2: sky']);
    bench.answer();
    expect(bench.panel.slice(2)).toEqual(['Uncover whole sheet', 'Burn 2/7: 1/5 sky']);
    bench.tap();
    bench.seconds(20);
    expect(bench.panel.slice(2)).toEqual(['Cover one more patch', 'Burn 3/7: 2/5 sky']);
  });

  it('left in the middle of a variant says which one the rest is of', () => {
    // It had said '2/5 sky' alone: neither that it is a burn, nor how far the sheet is, nor that this is a rest.
    const bench = evening();
    bracketed(bench, 0);
    bench.answer();
    bench.tap();
    bench.seconds(2);
    bench.hold();
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    expect(bench.panel.slice(2)).toEqual(['Uncover whole sheet', 'Base 1/7: 1/5 rest']);
  });

  it('of a burn that would come to nothing goes up from one step', () => {
    const bench = evening();
    bracketed(bench, 2);
    bench.push();
    bench.turn(9); // whole stops
    giveAll(bench);
    expect(exposures(bench).at(2)).toMatchObject({ kind: 'bracket', patch: 1, plannedMs: burnMs(120) });
  });

  it('of the base leaves its dodges out, whose hands would be in the way', () => {
    const bench = evening();
    bracketed(bench, 0);
    expect(bench.panel[1]).toBe('whole sheet');
    giveAll(bench);
    const given = exposures(bench);
    expect(given).toHaveLength(5 + 2);
    // base x 2^(n/120), n from -40 to 40 by sixths: by definition.
    expect(given[0]).toMatchObject({ kind: 'bracket', plannedMs: Math.round(BASE_MS * 2 ** (-40 / 120)) });
    const sum = given
      .slice(0, 5)
      .reduce((ms, entry) => ms + (entry.type === 'exposure' ? entry.plannedMs : 0), 0);
    expect(sum).toBe(Math.round(BASE_MS * 2 ** (40 / 120)));
  });

  // Dodges that do not stop the lamp: a setting, and the hand moves on under the light.
  it.each([
    [1, 3],
    [0, 1],
  ])('where dodges stop the lamp (%i) gives the passes beside it in as many lights', (pauses, lights) => {
    const bench = evening();
    bench.ask({ type: 'set-setting', id: 0, name: 'pause-for-dodges', value: pauses });
    bracketed(bench, 1);
    const before = bench.pulses.length;
    for (let taps = 0; taps < 9 && !bench.panel[3]!.startsWith('Pass 2'); taps++) {
      bench.tap();
      bench.seconds(20);
    }
    const base = bench.pulses.slice(before);
    expect(base).toHaveLength(lights);
    expect(base.reduce((sum, us) => sum + us, 0)).toBe(BASE_MS * 1000);
  });

  // base x 2^(n/120) and base x (2^(n/120) - 1), by definition: an offset that came of a time is not whole.
  it('gives the passes beside it to the millisecond, fine parts and all', () => {
    const [hard, edge] = [80.42, 30.44];
    const bench = new EveningBench();
    bench.greet();
    bench.print({
      ...{ name: 'split', baseMs: BASE_MS },
      passes: [
        { kind: 'base', label: 'hard', filter: '', stops120: hard },
        { kind: 'burn', label: 'sky', filter: '', stops120: 120 },
        { kind: 'burn', label: 'edge', filter: '', stops120: edge },
      ],
    });
    bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
    bench.turn(1);
    bracketed(bench, 1);
    giveAll(bench);
    const whole = exposures(bench).flatMap((entry) =>
      entry.type === 'exposure' && entry.kind !== 'bracket' ? [entry.plannedMs] : [],
    );
    expect(whole).toEqual([Math.round(BASE_MS * 2 ** (hard / 120)), burnMs(edge)]);
  });

  it('of the base reads the middle one as no offset', () => {
    const bench = evening();
    bracketed(bench, 0);
    giveAll(bench);
    bench.turn(1);
    expect(bench.panel.slice(1, 3)).toEqual(['+0 stop', 'Patch 3/5']);
  });

  it('read: the version that was right is the pass from now on, and the log says so', () => {
    const bench = evening();
    bracketed(bench, 1);
    giveAll(bench);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['+1 stop', 'Patch 3/5', 'Knob: which is right']);
    bench.turn(1);
    expect(bench.panel.slice(1, 3)).toEqual(['+1 1/12 stop', 'Between 3 and 4']);
    bench.turn(1);
    bench.push();
    expect(bench.panel).toEqual(['Tap print Hold focus', '12.00 s base', 'boathouse', 'Hold knob: keep it']);
    expect(entries(bench, 'strip-reading')).toMatchObject([{ verdict: 'patch', patch: 4 }]);
    expect(entries(bench, 'recipe-change')).toMatchObject([{ what: 'pass', pass: 2, stops120: 140 }]);
    bench.tap();
    giveAll(bench);
    expect(exposures(bench).at(-2)).toMatchObject({ kind: 'burn', label: 'sky', plannedMs: burnMs(140) });
  });

  it('all too dark: the pass is as the lightest version, and the next bracket goes about that', () => {
    const bench = evening();
    bracketed(bench, 1);
    giveAll(bench);
    bench.turn(-20);
    bench.turn(-20);
    expect(bench.panel[2]).toBe('All too dark');
    bench.push();
    expect(bench.panel).toEqual(['Tap sheet Hold focus', '12.00 s base', '5 variants, 1/6 st', 'of sky']);
    bench.tap();
    giveAll(bench);
    // 40/120 to 120/120 about the lightest of before.
    expect(exposures(bench).at(-6)).toMatchObject({ kind: 'bracket', patch: 1, plannedMs: burnMs(40) });
  });

  it('is of the recipe that it was given of: another one in use has nothing to read', () => {
    const bench = evening();
    bracketed(bench, 1);
    giveAll(bench);
    bench.hold();
    bench.print({ ...boathouse, name: 'jetty' });
    bench.turn(1);
    expect(bench.panel.slice(2)).toEqual(['5 variants, 1/6 st', 'of left edge']);
  });

  it('has no more than nine variants, and at least two', () => {
    const bench = evening();
    bracketed(bench, 1);
    bench.push();
    bench.push();
    bench.turn(20);
    expect(bench.panel[1]).toBe('5');
    bench.turn(4);
    expect(bench.panel[1]).toBe('9');
    bench.turn(1);
    expect(bench.panel[1]).toBe('9');
    bench.turn(-7);
    bench.turn(-1);
    expect(bench.panel[1]).toBe('2');
  });

  it('of no recipe is not offered', () => {
    const bench = new EveningBench();
    const shown = Array.from({ length: 5 }, () => {
      bench.turn(1);
      return bench.panel[2];
    });
    expect(shown).toEqual(['Safelight test', 'Stray light test', 'Lamp test', 'Checkup', 'Checkup']);
  });
});
