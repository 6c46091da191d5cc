import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

function begin(settings: Record<string, number> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries({ 'lens-check': 0, ...settings }))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  return bench;
}

type Job = 'strip' | 'recipe' | 'bracket' | 'plain' | 'process' | 'stray-light-test' | 'safelight-test';
const choose = (bench: EveningBench, job: Job, name = '') =>
  bench.ask({ type: 'choose', id: 0, job, name })[0]!;

describe('a laptop that chooses', () => {
  it('is heard while somebody focuses or looks at the lens, and not while anything is asked or given', () => {
    const bench = begin({ 'lens-check': 1 });
    bench.print(boathouse);
    const heard = () => choose(bench, 'strip').type === 'ok';
    bench.hold();
    expect(bench.board.lampOn).toBe(true);
    expect(heard()).toBe(true);
    bench.tap();
    expect(bench.panel[1]).toBe('Stop the lens down');
    expect(heard()).toBe(true);
    bench.hold();
    bench.tap();
    expect(heard()).toBe(false);
    bench.tap();
    expect(heard()).toBe(false);
    bench.hold();
    choose(bench, 'plain');
    bench.holdKnob();
    expect(bench.panel[0]).toBe('Tap keep Hold rest');
    expect(heard()).toBe(false);
    bench.hold();
    bench.turn(1);
    bench.seconds(3);
    expect(bench.ask({ type: 'make-way', id: 0, ask: true })).toMatchObject([{ stands: 'asked' }]);
    for (let clicks = 0; clicks < 3; clicks++) bench.turn(1);
    expect(bench.askAtOnce({ type: 'choose', id: 0, job: 'strip', name: '' }, 1000)).toMatchObject([
      { type: 'error', code: 'not-allowed' },
    ]);
  });

  it('watches the light for focusing as any other', () => {
    const bench = begin();
    bench.ask({ type: 'watch', id: 0, on: true });
    bench.hold();
    bench.seconds(2);
    bench.tap();
    bench.turn(1);
    bench.tap();
    bench.tap();
    bench.seconds(30);
    const lamp = [...bench.notices, ...bench.hear()].flatMap((line) => (line.type === 'lamp' ? [line] : []));
    expect(lamp.map(({ on }) => on)).toEqual(bench.board.lampEdges.map(({ on }) => on));
    expect(lamp.filter(({ on }) => on).map(({ onUs }) => onUs)).toEqual([0, 0]);
  });
});

describe('a push of the knob', () => {
  it('comes to nothing when the foot comes meanwhile', () => {
    for (const heldMs of [100, 900]) {
      const bench = begin();
      bench.print(boathouse);
      bench.board.knobPush(true);
      bench.board.advanceUs(50_000);
      bench.tap();
      bench.answer();
      const shown = bench.panel;
      bench.board.advanceUs(heldMs * 1000);
      bench.board.knobPush(false);
      bench.seconds(1);
      expect(bench.panel).toEqual(shown);
    }
  });

  it('goes on with a plain sheet that was left, as a tap does', () => {
    const [byTap, byPush] = (['tap', 'push'] as const).map((gesture) => {
      const bench = begin();
      choose(bench, 'plain');
      bench.tap();
      bench.tap();
      bench.seconds(3);
      bench.tap();
      bench.hold();
      bench.seconds(1);
      bench[gesture]();
      return bench.panel;
    });
    expect(byPush).toEqual(byTap);
    expect(byTap![0]).toBe('Tap start Hold back');
  });
});

describe('the most that the knob turns to', () => {
  // Twelve are all that a strip has; of a bracket more than nine are narrower than a card can be placed.
  it.each([
    ['strip', 'patches', limits.stripPatches],
    ['bracket', 'patches', 9],
  ] as const)('is refused beyond of a %s', (job, figure, most) => {
    const bench = begin();
    bench.print({ ...boathouse, passes: boathouse.passes.slice(1) });
    choose(bench, job, job === 'bracket' ? boathouse.name : '');
    bench.tap();
    bench.answer();
    bench.pushTo(figure);
    for (let pushes = 0; pushes < 9; pushes++) {
      bench.push();
      if (bench.panel[3]!.endsWith('step')) break;
    }
    bench.turn(-24);
    bench.pushTo(figure);
    for (let clicks = 0; clicks < 15; clicks++) {
      bench.seconds(1);
      bench.turn(1);
    }
    expect(bench.panel[1]).toBe(`${most}`);
  });

  it.each([-1, 1])('leaves a bracket the only pass that there is, at a click of %i', (click) => {
    const bench = begin();
    bench.print({ ...boathouse, passes: boathouse.passes.slice(1, 2) });
    choose(bench, 'bracket', boathouse.name);
    bench.tap();
    bench.push();
    const before = bench.panel;
    expect(before.join('|')).toContain('sky');
    bench.seconds(1);
    bench.turn(click);
    bench.seconds(1);
    expect(bench.panel).toEqual(before);
  });

  // Ten stops down is a thousandth and a bit of an hour: 3600 s / 1024, by definition.
  it('leaves a bracket its lightest variant at ten stops below the base', () => {
    const bench = begin();
    bench.print({
      ...{ name: 'night', baseMs: limits.longestDoseMs },
      passes: [{ kind: 'base', label: 'whole', filter: '', stops120: -1170 }],
    });
    choose(bench, 'bracket', 'night');
    expect(bench.panel[3]).toBe('of whole');
    bench.tap();
    bench.pushTo('step');
    bench.seconds(1);
    bench.turn(1);
    bench.hold();
    bench.tap();
    bench.tap();
    bench.seconds(20);
    const given = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry.doseMs] : []));
    expect(given).toEqual([Math.round(limits.longestDoseMs / 1024)]);
  });
});

describe('days later', () => {
  it('the clock still begins with the time as it is', () => {
    const bench = begin();
    const epochMs = Date.UTC(2027, 2, 5, 21, 40, 30);
    bench.ask({ type: 'set-clock', id: 0, epochMs });
    const toldUs = bench.board.nowUs;
    bench.turn(-24);
    for (const days of [1, 30]) {
      bench.seconds(days * 86_400);
      bench.tap();
      const now = new Date(epochMs + (bench.board.nowUs - toldUs) / 1000);
      expect(bench.panel[1]).toBe(now.toISOString().slice(0, 16).replace('T', ' '));
      bench.hold();
    }
  });

  it('paper that was forgotten is out for as long as panel and log can say, and both say the same', () => {
    for (const hours of [1, 23, 30]) {
      const bench = begin({ 'safe-minutes': 3, 'bath-follows': 1 });
      choose(bench, 'plain');
      bench.tap();
      bench.tap();
      const sinceUs = bench.board.lampEdges.at(-1)!.atUs;
      bench.seconds(hours * 3600);
      const minutes = Number(/^Paper out (\d+) min/.exec(bench.panel.join('|').split('|')[3]!)?.[1]);
      choose(bench, 'process');
      bench.tap();
      bench.tap();
      bench.seconds(100);
      const [used] = bench.log().flatMap((entry) => (entry.type === 'bath-used' ? [entry] : []));
      const outMs = used!.uptimeMs - used!.givenMs - sinceUs / 1000;
      expect(Math.abs(used!.outMs - Math.min(outMs, 24 * 3_600_000))).toBeLessThan(500);
      expect(minutes).toBe(Math.min(24 * 60, Math.floor(hours * 60)));
    }
  });
});

describe('the rows', () => {
  it('say that a plain exposure is being kept, as long as the flash takes', () => {
    const bench = begin();
    choose(bench, 'plain');
    bench.tap();
    bench.tap();
    bench.seconds(20);
    bench.holdKnob();
    bench.board.knobPush(true);
    bench.board.advanceUs(120_000);
    bench.board.knobPush(false);
    const rows = new Set<string>();
    for (let moments = 0; moments < 200; moments++) {
      bench.board.advanceUs(1000);
      rows.add(bench.panel[2]!);
    }
    expect([...rows]).toContain('Keeping recipe ...');
    bench.seconds(2);
    expect(bench.panel[2]).toBe('negative-1');
  });

  it('of a test for stray light say nothing of a safelight that is on', () => {
    const seen = new Set<string>();
    for (const job of ['stray-light-test', 'safelight-test'] as const) {
      const bench = begin();
      choose(bench, job);
      const rows: string[] = [];
      for (let taps = 0; taps < 9 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
        bench.tap();
        rows.push(...bench.panel);
        bench.seconds(5);
        rows.push(...bench.panel);
        bench.seconds(430);
      }
      const said = rows.join('|');
      expect(/of safelight|afelight on/.test(said)).toBe(job === 'safelight-test');
      expect(/\d in the dark/.test(said)).toBe(job === 'stray-light-test');
      seen.add(said);
    }
    expect(seen.size).toBe(2);
  });
});

describe('the first tone', () => {
  const toneAt = (seconds: number, factor: number, bath: { seconds: number; drain: number }) => {
    const bench = begin({ 'first-tone-factor': factor });
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'developer', limitCm2: 0, agitationSeconds: 0 },
      ...{ resinCoatedSeconds: bath.seconds, fibreSeconds: bath.seconds, drainSeconds: bath.drain },
    });
    choose(bench, 'process');
    bench.tap();
    bench.tap();
    // From one foot's lift to the next: a tap takes 0.12 s, and its contact 0.06 s beside that.
    bench.board.advanceUs(Math.round(seconds * 1_000_000) - 180_000);
    bench.tap();
    return bench;
  };

  it('makes the time its multiple, rounded half up to a second', () => {
    // Seven times 12.357 s are 86.499 s, seven times 12.5 s are 87.5 s.
    for (const [ms, factor] of [
      ...[4000, 4124, 4125, 4126, 5249, 5250].map((ms) => [ms, 4] as const),
      ...[12_357, 12_358, 12_499, 12_500].map((ms) => [ms, 7] as const),
    ]) {
      const bench = toneAt(ms / 1000, factor, { seconds: 90, drain: 0 });
      bench.seconds(90);
      const [tone] = entries(bench, 'development');
      expect(tone).toMatchObject({ firstToneMs: ms });
      expect(entries(bench, 'bath-used')).toMatchObject([
        { givenMs: Math.floor((ms * factor + 500) / 1000) * 1000 },
      ]);
    }
  });

  // The second one in the last second of all, where no more than that is left.
  it.each([17_000, 65_534.5])(
    'that comes after %d s makes it the longest that a row may have, and no longer',
    (seconds) => {
      const longest = 0xffff;
      const bench = toneAt(seconds, 4, { seconds: longest, drain: 0 });
      bench.seconds(longest);
      expect(entries(bench, 'bath-used')).toMatchObject([{ givenMs: longest * 1000 }]);
      expect(entries(bench, 'development')).toMatchObject([{ plannedMs: longest * 1000 }]);
    },
  );

  it('that makes it short has the paper lifted at the next second, not before what is over', () => {
    const bench = toneAt(8, 4, { seconds: 90, drain: 30 });
    bench.seconds(0.5);
    expect(bench.panel[1]).not.toContain('lift');
    bench.seconds(1);
    expect(bench.panel[1]).toContain('lift, drain');
    bench.seconds(30);
    expect(entries(bench, 'bath-used')).toMatchObject([{ givenMs: 32_000 }]);
  });
});
