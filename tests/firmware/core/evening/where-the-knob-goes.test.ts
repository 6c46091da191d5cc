import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { type BenchRecipe, EveningBench } from './evening-bench.js';
import { works } from './random-evening.js';
import { heardSince } from './rhythm.js';

type Job = (typeof works)[number];

function begin(settings: Record<string, number> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries(settings))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'knob-step', value });
  bench.focusAndStopDown();
  bench.seconds(1);
  return bench;
}

function choose(bench: EveningBench, job: Job): string {
  expect(chooseWork(bench, job)).toMatchObject([{ type: 'ok' }]);
  return bench.panel.join('|');
}

function strip(bench: EveningBench, figures: { firstMs?: number; stepStops120?: number; filter?: string }) {
  const usual = { firstMs: 2000, stepStops120: 60, stepMs: 0, patches: 2, filter: '' };
  bench.ask({ type: 'strip-set', id: 0, ...usual, cover: 'cumulative', ...figures });
}

/** Pushes until the third row asks for it, and turns slowly. */
function turn(bench: EveningBench, figure: string, clicks: number): string {
  bench.pushTo(figure);
  expect(bench.panel[3]).toContain(figure);
  bench.seconds(1);
  bench.turn(clicks);
  return bench.panel[1]!;
}

/** What the knob is asked for, push by push, until it comes round. */
function figures(bench: EveningBench): string[] {
  const seen: string[] = [];
  for (let pushes = 0; pushes < 40; pushes++) {
    bench.push();
    const row = bench.panel[3]!;
    if (row === seen[0]) break;
    seen.push(row);
  }
  return seen;
}

/** Both tests for fog are of the same grey. */
const alike: { readonly [job in Job]?: readonly Job[] } = {
  'safelight-test': ['safelight-test', 'stray-light-test'],
  'stray-light-test': ['safelight-test', 'stray-light-test'],
};

describe('the knob', () => {
  it.each(works)('leaves every other kind of work as it was while it turns the figures of %s', (job) => {
    const bench = begin();
    bench.print(boathouse);
    const others = works.filter((other) => !(alike[job] ?? [job]).includes(other));
    // A bracket is of the recipe in use, and of its base.
    const shown = (other: Job) =>
      job === 'recipe' ? choose(bench, other).replace(/[\d.]+ s base/, '') : choose(bench, other);
    const before = others.map(shown);
    choose(bench, job);
    bench.tap();
    for (let figure = 0; figure < 9; figure++) {
      bench.push();
      bench.seconds(1);
      bench.turn(1);
    }
    bench.hold();
    bench.seconds(1);
    expect(others.map(shown)).toEqual(before);
  });

  it('begins with the filter that a strip has, and comes from the last one to none in one turn', () => {
    const bench = begin();
    strip(bench, { filter: '2' });
    bench.tap();
    expect(turn(bench, 'filter', 1)).toBe('filter 2 1/2');
    expect(turn(bench, 'filter', -24)).toBe('no filter');
  });

  // The steps that are offered: a twelfth, a sixth, a quarter, a third, a half and a whole stop.
  it('comes from a step that a laptop set to those that are offered, one a click', () => {
    for (const [clicks, step] of [
      [-1, '1 stop'],
      [-2, '1/2 stop'],
      [-5, '1/6 stop'],
      [-24, '1/12 stop'],
    ] as const) {
      const bench = begin();
      strip(bench, { stepStops120: 180 });
      bench.tap();
      expect(turn(bench, 'step', clicks)).toBe(step);
    }
  });

  it('is silent at the end of a step, a time and a filter, which are as they were', () => {
    const bench = begin();
    strip(bench, { stepStops120: 10, firstMs: 1_790_000 });
    bench.tap();
    for (const [figure, clicks] of [
      ['step', -1],
      ['first time', 24],
      ['filter', -1],
    ] as const) {
      const shown = turn(bench, figure, clicks);
      bench.seconds(1);
      const fromUs = bench.board.nowUs;
      bench.turn(clicks);
      bench.seconds(1);
      if (figure !== 'first time') expect(bench.panel[1]).toBe(shown);
      expect(heardSince(bench, fromUs)).toBe('');
    }
  });

  // An offset is in stops whatever the setting for times: a twelfth a click where those go by seconds.
  it('turns an offset by a twelfth of a stop where times are turned in seconds', () => {
    const bench = begin({ 'knob-step': 0 });
    bench.print({
      ...{ name: 'edge', baseMs: 10_000 },
      passes: [
        { kind: 'base', label: 'whole', filter: '', stops120: 0 },
        { kind: 'burn', label: 'edge', filter: '', stops120: 60 },
      ],
    });
    bench.tap();
    bench.push();
    bench.push();
    bench.push();
    bench.seconds(1);
    bench.turn(1);
    expect(bench.panel.join('|')).toContain('+7/12');
  });

  it('goes by half minutes above five minutes, down as up', () => {
    const bench = begin();
    for (const firstMs of [301_000, 700_000, 1_234_567, 1_700_000])
      for (const way of [1, -1]) {
        strip(bench, { firstMs });
        bench.tap();
        turn(bench, 'first, seconds', way);
        // The panel has no thousandths there: the log has.
        bench.tap();
        bench.tap();
        bench.tap();
        bench.hold();
        bench.turn(1);
        bench.seconds(1);
        const { baseMs } = bench
          .log()
          .flatMap((entry) => (entry.type === 'sheet' ? [entry] : []))
          .at(-1)!;
        expect(baseMs % 30_000).toBe(0);
        expect((baseMs - firstMs) * way).toBeGreaterThan(0);
        expect(Math.abs(baseMs - firstMs)).toBeLessThanOrEqual(30_000);
      }
  });

  it('turns the tray to the next whole or half degree, whatever a laptop set', () => {
    for (const [way, shown] of [
      [1, '20.5 C'],
      [-1, '20.0 C'],
    ] as const) {
      const bench = begin({ 'tray-c10': 203 });
      for (const [point, trayC10] of [180, 240].entries())
        bench.ask({
          ...{ type: 'point-set', id: 0, point: point + 1, points: 2, label: 'developer', trayC10 },
          ...{ resinCoatedSeconds: 90, fibreSeconds: 90 },
        });
      choose(bench, 'process');
      bench.tap();
      expect(turn(bench, 'temperature', way)).toContain(shown);
    }
  });

  it('asks for paper and first tone at the first bath alone', () => {
    const bench = begin();
    choose(bench, 'process');
    bench.tap();
    const first = figures(bench);
    expect(first).toContain('Knob: paper');
    expect(first).toContain('Knob: by first tone');
    bench.hold();
    bench.tap();
    bench.tap();
    bench.seconds(100);
    expect(bench.panel[3]).toBe('Bath 2/4, 1 sheet');
    const second = figures(bench);
    expect(second).toEqual(['Knob: bath 2/4', 'Knob: how many', 'Knob: mixed fresh']);
  });

  it('stands at the first of what is read on a test of the safelight, whatever strip was read before', () => {
    const bench = begin();
    bench.tap();
    for (let patch = 0; patch < 6; patch++) {
      bench.tap();
      bench.seconds(40);
    }
    bench.push();
    bench.push();
    bench.seconds(1);
    bench.focusAndStopDown();
    choose(bench, 'safelight-test');
    for (let taps = 0; taps < 9 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
      bench.tap();
      bench.seconds(431);
    }
    bench.push();
    expect(bench.panel[2]).toBe('Band 2 is fogged');
  });
});

describe('a recipe at the knob', () => {
  type Pass = BenchRecipe['passes'][number];
  const held = (labels: readonly string[]) => labels.map((label) => ({ label, stops120: -30 }));
  const base = (dodges: readonly string[] = [], stops120 = 0): Pass => ({
    ...{ kind: 'base', label: 'whole', filter: '', stops120, dodges: held(dodges) },
  });
  const burn = (label: string, dodges: readonly string[] = []): Pass => ({
    ...{ kind: 'burn', label, filter: '', stops120: 60, dodges: held(dodges) },
  });
  function board(passes: BenchRecipe['passes']): EveningBench {
    const bench = begin();
    bench.print({ name: 'cove', baseMs: 16_000, passes });
    return bench;
  }

  it('has a figure for each offset and each dodge in their order, and none for a pass that is the base itself', () => {
    const bench = board([base(), base(['sail']), base([], 20), burn('sky', ['gull', 'mast']), base()]);
    bench.tap();
    const rows: string[] = [];
    for (let pushes = 0; pushes < 12; pushes++) {
      bench.push();
      rows.push(`${bench.panel[2]} ${bench.panel[3]}`);
    }
    const named = rows.map((row) => /sail|sky|gull|mast|whole(?! recipe| sheet)/.exec(row)?.[0]);
    expect(named.filter((name) => name !== undefined).slice(0, 5)).toEqual([
      'sail',
      'whole',
      'sky',
      'gull',
      'mast',
    ]);
  });

  it('names each dodge by its own label, in whatever pass', () => {
    const bench = board([base(['sail', 'hull']), burn('sky', ['gull'])]);
    bench.tap();
    const shown: string[] = [];
    for (let lights = 0; lights < 5; lights++) {
      shown.push(bench.panel[2]!);
      bench.tap();
      bench.seconds(20);
    }
    expect(shown).toEqual(['sail', 'hull', 'whole', 'gull', 'sky']);
  });

  it('is bracketed at its last burn, or at its last pass where it has none', () => {
    const bracketed = (passes: BenchRecipe['passes']) => {
      const bench = board(passes);
      bench.ask({ type: 'choose', id: 0, job: 'bracket', name: 'cove' });
      return bench.panel[3];
    };
    const rest = { ...base([], 20), label: 'rest' };
    expect(bracketed([base()])).toBe('of whole');
    expect(bracketed([base(), burn('sky'), burn('edge'), rest])).toBe('of edge');
    expect(bracketed([base(), rest])).toBe('of rest');
  });

  it('logs no offset for a base that was turned, and first that it is another recipe where one was turned before', () => {
    const bench = begin();
    bench.print(boathouse);
    bench.tap();
    bench.push();
    bench.turn(1);
    bench.hold();
    bench.seconds(1);
    bench.print({ name: 'cove', baseMs: 16_000, passes: [base()] });
    bench.tap();
    bench.push();
    bench.turn(1);
    bench.hold();
    bench.seconds(1);
    const told = bench
      .log()
      .flatMap((entry) =>
        entry.type === 'recipe-change'
          ? [[entry.recipe, entry.stops120]]
          : entry.type === 'recipe-taken'
            ? [[entry.recipe]]
            : [],
      );
    expect(told).toEqual([['boathouse', 0], ['cove'], ['cove', 0]]);
  });
});
