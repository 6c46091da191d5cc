import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

// What a sheet gets in two parts is what it would have got in one, and the log says so of each part.

const kinds = ['strip', 'recipe', 'bracket', 'plain', 'lamp-test'] as const;

function ready(job: (typeof kinds)[number], settings: Record<string, number> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries({ 'lens-check': 0, ...settings }))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  bench.print({ ...boathouse, passes: boathouse.passes.slice(1) });
  chooseWork(bench, job);
  bench.tap();
  bench.answer();
  return bench;
}

const lights = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (entry.type === 'exposure' && entry.kind !== 'focus' ? [entry] : []));

/** All that is still to be given. */
function giveAll(bench: EveningBench): void {
  for (let lights = 0; lights < 30 && !bench.panel[0]!.startsWith('Tap again'); lights++) {
    bench.answer();
    bench.tap();
    bench.seconds(60);
  }
}

describe('a foot that comes too soon to be heard and holds on', () => {
  it.each(kinds)('leaves a %s that goes on with what is left of its light', (job) => {
    const whole = ready(job);
    giveAll(whole);
    const bench = ready(job);
    bench.tap();
    bench.board.advanceUs(10_000);
    bench.hold();
    bench.seconds(1);
    expect(bench.board.lampOn).toBe(false);
    expect(lights(bench)).toMatchObject([{ outcome: 'stopped' }]);
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ sheet: 1, outcome: 'stopped', wasted: 1 }]);
    expect(bench.panel.slice(0, 3)).toEqual([
      'Tap go on Hold focus',
      'Sheet 1 goes on',
      job === 'lamp-test' ? 'rest of long one' : expect.stringMatching(/^rest of (pass|patch) 1\//),
    ]);
    const { plannedMs, doseMs } = lights(bench)[0]!;
    giveAll(bench);
    const [first, rest, ...others] = lights(bench);
    expect(first).toMatchObject({ plannedMs, doseMs });
    expect(Math.abs(rest!.plannedMs - (plannedMs - doseMs))).toBeLessThanOrEqual(1);
    expect(Math.abs(rest!.doseMs - rest!.plannedMs)).toBeLessThanOrEqual(1);
    const doses = (them: readonly { doseMs: number }[]) => them.map((light) => light.doseMs);
    expect(doses(others)).toEqual(doses(lights(whole)).slice(1));
    const ended = entries(bench, 'sheet-ended');
    expect(ended).toMatchObject([{ outcome: 'stopped' }, { outcome: 'complete' }]);
  });

  // A lamp so slow has pulses of a second; what is left of the one under way rounds to nothing.
  it('just as a pulse of a lamp test ends leaves that pulse given, and goes on with the next', () => {
    const bench = ready('lamp-test', { 'lamp-rise-ms': 400 });
    bench.tap();
    bench.seconds(60);
    bench.tap();
    const onUs = bench.board.lampEdges.at(-1)!.atUs;
    const pulseUs = 1_000_000;
    // A hold tells at 0.8 s after the contact has settled, which takes 0.2 ms.
    bench.board.advanceUs(onUs + pulseUs - 800_000 - 200 - 300 - bench.board.nowUs);
    bench.board.pedal(true);
    bench.board.advanceUs(900_000);
    bench.board.pedal(false);
    bench.seconds(1);
    expect(bench.board.lampEdges.at(-1)!.atUs - onUs).toBe(pulseUs - 300);
    bench.tap();
    bench.tap();
    bench.seconds(60);
    expect(bench.panel[3]).toContain('Patch 2/7');
    const [, , rest] = lights(bench);
    expect(rest!.plannedMs).toBe(15_000);
    expect(Math.abs(rest!.doseMs - 15_000)).toBeLessThanOrEqual(1);
  });

  it.each([1, 2, 3])('after pulse %i of a lamp test leaves the rest of its patch', (pulses) => {
    const bench = ready('lamp-test');
    bench.tap();
    bench.seconds(6);
    bench.tap();
    bench.seconds(pulses - 1 + 0.5);
    bench.hold();
    expect(bench.panel[2]).toBe('rest of patch 1/7');
  });
});

describe('a sheet that was left', () => {
  it('is logged with its rest to the nearest millisecond', () => {
    for (const restUs of [1_234_499, 1_234_500, 1_234_501]) {
      const bench = ready('plain');
      bench.tap();
      const { atUs } = bench.board.lampEdges.at(-1)!;
      // The press is one when the contact has been closed for 0.2 ms.
      bench.board.advanceUs(atUs + 10_000_000 - restUs - 200 - bench.board.nowUs);
      bench.hold();
      expect(bench.pulses.at(-1)).toBe(10_000_000 - restUs);
      bench.tap();
      bench.tap();
      bench.seconds(2);
      expect(lights(bench).at(-1)!.plannedMs).toBe(Math.round(restUs / 1000));
    }
  });

  it.each([6_000, 11_000, 17_500, 20_000, 45_000, 90_000, 400_000])(
    'in the middle of %i ms has its rest to come, which no knob turns',
    (baseMs) => {
      const bench = ready('plain');
      bench.hold();
      bench.print({
        name: 'cove',
        baseMs,
        passes: [{ kind: 'base', label: 'cove', filter: '', stops120: 0 }],
      });
      for (const part of [0.1, 0.5, 0.8]) {
        bench.tap();
        bench.tap();
        bench.seconds((baseMs / 1000) * part);
        bench.hold();
        expect(bench.panel.slice(0, 3), `${part}`).toEqual([
          'Tap go on Hold focus',
          expect.stringMatching(/^Sheet \d goes on/),
          'rest of pass 1/1',
        ]);
        bench.tap();
        const rest = bench.panel;
        bench.turn(1);
        bench.push();
        expect(bench.panel).toEqual(rest);
        bench.hold();
        bench.turn(1);
        bench.seconds(0.5);
      }
    },
  );

  it.each(['strip', 'recipe'] as const)(
    'is of the %s that it was begun with, whatever was chosen since',
    (job) => {
      const uncut = ready(job);
      giveAll(uncut);
      const bench = ready(job);
      bench.tap();
      bench.seconds(1);
      bench.tap();
      bench.hold();
      const left = bench.panel.slice(1);
      bench.ask({
        ...{ type: 'strip-set', id: 0, firstMs: 33_000, stepStops120: 20, stepMs: 0, patches: 9 },
        ...{ cover: 'separate', filter: '5' },
      });
      bench.seconds(2);
      bench.print({
        ...{ name: 'cove', baseMs: 40_000 },
        passes: [{ kind: 'base', label: 'cove', filter: '3', stops120: 0 }],
      });
      // From another recipe the knob would come past that of the sheet, and take it.
      bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
      bench.seconds(2);
      bench.turn(-24);
      expect(bench.panel.slice(1)).toEqual(left);
      bench.tap();
      giveAll(bench);
      const wanted = ({ label, filter, recipe, patch }: ReturnType<typeof lights>[number]) =>
        [label, filter, recipe, patch].join('|');
      expect(lights(bench).slice(1).map(wanted)).toEqual(lights(uncut).map(wanted));
      bench.hold();
      uncut.hold();
      expect(bench.panel.slice(1)).toEqual(uncut.panel.slice(1));
    },
  );

  it('and is gone on with leaves the strip of before to be read', () => {
    const bench = ready('strip');
    giveAll(bench);
    bench.hold();
    expect(bench.panel[3]).toBe('Push knob: read it');
    chooseWork(bench, 'recipe');
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(2);
    bench.hold();
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    giveAll(bench);
    chooseWork(bench, 'strip');
    expect(bench.panel[3]).toBe('Push knob: read it');
    bench.push();
    expect(bench.panel[0]).toBe('Tap accept Hold rest');
  });

  it('is developed as it is where sheets go to the baths, and not gone on with', () => {
    const bench = ready('strip');
    bench.tap();
    bench.seconds(1);
    bench.tap();
    bench.hold();
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.turn(-24);
    expect(bench.panel[1]).toBe('Sheet 1 goes on');
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    bench.turn(-24);
    expect(bench.panel[1]).not.toBe('Sheet 1 goes on');
  });
});
