import { beforeAll, describe, expect, it } from 'vitest';
import { playDarkEvening } from './dark-evening.js';
import { EveningBench } from './evening-bench.js';
import type { Page } from './page.js';

describe('an evening with the laptop shut', () => {
  let page: Page;
  beforeAll(() => {
    page = playDarkEvening(new EveningBench());
  });

  // Read by a person for sense; a change of it is to be read again.
  it('shows these screens', async () => {
    await expect(page.text).toMatchFileSnapshot('golden-dark-evening.txt');
  });

  it('is told by the log so that a stranger can repeat it', () => {
    const log = page.bench.log().filter((entry) => entry.type !== 'exposure');
    expect(log).toMatchObject([
      { type: 'started' },
      { type: 'lens' },
      { type: 'sheet', job: 'safelight-test', baseMs: 1000, patches: 4 },
      { type: 'sheet-ended', outcome: 'complete', strips: 1 },
      { type: 'test-result', what: 'safe-minutes', value: 3 },
      { type: 'sheet', job: 'lamp-test', baseMs: 4000, stepMs: 20, patches: 7 },
      { type: 'sheet-ended', outcome: 'complete', strips: 2 },
      { type: 'strip-reading', verdict: 'between', patch: 2 },
      { type: 'test-result', what: 'lamp-lag-ms', value: 30 },
      { type: 'sheet', job: 'strip', baseMs: 2000, stepStops120: 120, patches: 6 },
      { type: 'sheet-ended', outcome: 'complete', strips: 3 },
      { type: 'strip-reading', verdict: 'too-dark' },
      { type: 'lens' },
      { type: 'sheet', job: 'strip', stepStops120: 120, patches: 6 },
      { type: 'sheet-ended', outcome: 'complete', strips: 4 },
      { type: 'strip-reading', verdict: 'between', patch: 2, doseMs: 1131 },
      { type: 'stopped-down', stops: 3, baseMs: 9048 },
      { type: 'sheet', job: 'strip', stepStops120: 12, patches: 12 },
      { type: 'sheet-ended', outcome: 'complete', strips: 5 },
      { type: 'strip-reading', verdict: 'patch', patch: 7, doseMs: 9361 },
      {
        type: 'sheet',
        job: 'bracket',
        recipe: 'boathouse',
        version: 1,
        baseMs: 9361,
        stepStops120: 20,
        patches: 5,
      },
      { type: 'sheet-ended', outcome: 'complete', strips: 6 },
      { type: 'strip-reading', verdict: 'between', patch: 3 },
      { type: 'recipe-change', recipe: 'boathouse', what: 'pass', pass: 2, stops120: 130 },
      { type: 'sheet', job: 'recipe', recipe: 'boathouse', version: 1, baseMs: 9361 },
      { type: 'sheet-ended', outcome: 'complete', prints: 1 },
      { type: 'recipe-version', recipe: 'boathouse', version: 2 },
      { type: 'bath-used', bath: 1, label: 'developer', sheets: 1, plannedMs: 90_000, givenMs: 90_000 },
      { type: 'bath-used', bath: 2, label: 'stop', givenMs: 20_000 },
      { type: 'bath-used', bath: 3, label: 'fixer', givenMs: 90_000 },
      { type: 'bath-used', bath: 4, label: 'wash', plannedMs: 180_000 },
      { type: 'recipe-change', recipe: 'boathouse', what: 'base', baseMs: 10_507 },
      { type: 'sheet', job: 'recipe', recipe: 'boathouse', version: 2, baseMs: 10_507 },
      { type: 'sheet-ended', outcome: 'complete', prints: 2 },
    ]);
  });

  it('gives every sheet the light that was planned', () => {
    const given = page.bench.log().filter((entry) => entry.type === 'exposure' && entry.kind !== 'focus');
    expect(given.length).toBeGreaterThan(40);
    for (const entry of given) {
      if (entry.type !== 'exposure') continue;
      expect(entry.outcome).toBe('complete');
      expect(Math.abs(entry.doseMs - entry.plannedMs)).toBeLessThanOrEqual(1);
    }
  });

  it('repeats the second print at +1/6: every pass is longer by the same factor', () => {
    // 2^(1/6) = 1.122462, by definition.
    const print = (sheet: number) =>
      page.bench
        .log()
        .flatMap((entry) => (entry.type === 'exposure' && entry.sheet === sheet ? [entry.plannedMs] : []));
    const [first, second] = [print(7), print(8)];
    expect(first).toHaveLength(3);
    second.forEach((ms, pass) => {
      expect(Math.abs(ms - first[pass]! * 1.122462)).toBeLessThan(2);
    });
  });
});
