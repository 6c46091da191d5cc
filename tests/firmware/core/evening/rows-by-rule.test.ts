import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';

// What a row should say is put together here from what was set, with a row of 20 columns.

const COLUMNS = 20;

function fraction(stops120: number): string {
  const common = (one: number, other: number): number => (other === 0 ? one : common(other, one % other));
  const [whole, parts] = [Math.floor(stops120 / 120), stops120 % 120];
  const divisor = common(parts, 120);
  const part = parts === 0 ? '' : `${parts / divisor}/${120 / divisor}`;
  return [...(whole === 0 ? [] : [whole]), ...(part === '' ? [] : [part])].join(' ');
}

function board(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.focusAndStopDown();
  return bench;
}

function seconds(ms: number): string {
  if (ms < 99_995) return `${(Math.round(ms / 10) / 100).toFixed(2)} s`;
  return ms < 1_000_000 ? `${(Math.round(ms / 100) / 10).toFixed(1)} s` : `${Math.round(ms / 1000)} s`;
}

describe('the rows of a strip', () => {
  it('tell its patches and its step, with as much of "st" as there is room for', () => {
    const bench = board();
    for (let patches = 2; patches <= 12; patches++)
      for (const step of [1, 3, 7, 10, 12, 15, 20, 24, 30, 40, 60, 90, 100, 105, 108]) {
        if (step * (patches - 1) > 1200) continue;
        const strip = {
          firstMs: 2000,
          stepStops120: step,
          stepMs: 0,
          patches,
          cover: 'cumulative',
          filter: '',
        } as const;
        bench.askAtOnce({ type: 'strip-set', id: 0, ...strip }, 200_000);
        const row = `${patches} patches, ${fraction(step)}`;
        expect(bench.panel[2]).toBe(row.length + 3 <= COLUMNS ? `${row} st` : row.slice(0, COLUMNS));
      }
  });

  it('tell its first time to a hundredth, a tenth or a whole second, rounded, by its length', () => {
    const bench = board();
    const round = [90, 94, 95, 96, 104, 105, 106, 1234, 9_995, 99_984, 99_985];
    for (const firstMs of [
      ...round,
      100_000,
      100_049,
      100_050,
      100_051,
      123_456,
      999_940,
      999_949,
      1_000_000,
      1_000_499,
      1_000_500,
    ]) {
      const strip = {
        firstMs,
        stepStops120: 10,
        stepMs: 0,
        patches: 2,
        cover: 'cumulative',
        filter: '',
      } as const;
      bench.askAtOnce({ type: 'strip-set', id: 0, ...strip }, 200_000);
      expect([firstMs, bench.panel[1]]).toEqual([firstMs, `${seconds(firstMs)} first`]);
    }
  });
});

describe('the filter of a light', () => {
  it('stands whole at the right edge, with the word for it where there is room for that', () => {
    const bench = board();
    for (const ms of [8000, 80_000, 800_000])
      for (const filter of ['2', '00', '4½', '2 1/2', '2 1/2+', '40 M 20', '"é" 12']) {
        const strip = {
          firstMs: ms,
          stepStops120: 10,
          stepMs: 0,
          patches: 2,
          cover: 'cumulative',
          filter,
        } as const;
        bench.askAtOnce({ type: 'strip-set', id: 0, ...strip }, 200_000);
        const shown = filter.replace('½', '?').replace('é', 'e');
        const room = COLUMNS - seconds(ms).length - 1;
        const words = shown.length + 'filter '.length <= room ? `filter ${shown}` : shown;
        expect(bench.panel[1]).toBe(`${seconds(ms)} ${words.padStart(room)}`);
      }
  });
});

describe('the filter of a strip, while the knob is at it', () => {
  it.each([
    ['', 'no filter'],
    ['2 1/2', 'filter 2 1/2'],
    ['40 M 20', 'filter 40 M 20'],
  ])("that is '%s' is told as '%s'", (filter, row) => {
    const bench = board();
    const strip = {
      firstMs: 2000,
      stepStops120: 60,
      stepMs: 0,
      patches: 4,
      cover: 'cumulative',
      filter,
    } as const;
    bench.ask({ type: 'strip-set', id: 0, ...strip });
    bench.tap();
    bench.pushTo('Knob: filter');
    expect(bench.panel[1]).toBe(row);
  });
});

describe('what is left of a light, on the panel', () => {
  it('is the time to its end, to a tenth of a second, however long it is', () => {
    const bench = board();
    const strip = {
      firstMs: 1_900_000,
      stepStops120: 0,
      stepMs: 1,
      patches: 2,
      cover: 'separate',
      filter: '',
    } as const;
    bench.ask({ type: 'strip-set', id: 0, ...strip });
    bench.tap();
    bench.tap();
    bench.seconds(1);
    const beganUs = bench.board.lampEdges.at(-1)!.atUs;
    expect(bench.board.lampOn).toBe(true);
    for (const gap of [0.05, 0.5, 7.33, 123.456, 600.019, 1000.5]) {
      bench.seconds(gap);
      const leftUs = beganUs + 1_900_000_000 - bench.board.nowUs;
      const shown = Number(/^[\d.]+(?= s)/.exec(bench.panel[1]!)![0]);
      // The panel is drawn when something happens, at the latest each second by the metronome.
      expect(shown - leftUs / 1_000_000).toBeGreaterThanOrEqual(-0.051);
      expect(shown - leftUs / 1_000_000).toBeLessThan(1.06);
      // What was drawn was drawn at a tick, a whole number of seconds after the light began.
      expect(Math.round(shown * 10) % 10).toBe(0);
    }
  });
});

describe('a bracket', () => {
  it('is at first about the last burn of the recipe, or about its last pass where it has none', () => {
    const kinds = [
      ['base'],
      ['base', 'base'],
      ['base', 'burn'],
      ['base', 'burn', 'base'],
      ['base', 'burn', 'burn', 'base'],
    ];
    for (const row of kinds as ('base' | 'burn')[][]) {
      const bench = board();
      const passes = row.map((kind, at) => ({
        kind,
        label: `area ${at + 1}`,
        filter: '',
        stops120: kind === 'burn' ? 60 : 0,
      }));
      bench.send({ name: 'weir', baseMs: 12_000, passes });
      bench.ask({ type: 'choose', id: 0, job: 'bracket', name: 'weir' });
      const aim = row.includes('burn') ? row.lastIndexOf('burn') : row.length - 1;
      expect([row.join(' '), bench.panel[3]]).toEqual([row.join(' '), `of area ${aim + 1}`]);
    }
  });
});
