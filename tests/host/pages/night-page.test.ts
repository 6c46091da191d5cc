import { describe, expect, it } from 'vitest';
import { nightPage } from '../../../host/pages/night/night-page.js';
import {
  type LoggedLight,
  nightRows,
  nightTotals,
  type SheetMark,
} from '../../../host/pages/night/night-rows.js';
import { hostileTexts, openTags, suspiciousParts } from './hostile-text.js';

let seq = 0;
function light(fields: Partial<LoggedLight>): LoggedLight {
  seq += 1;
  return {
    seq,
    boot: 1,
    at: new Date(Date.UTC(2027, 2, 5, 20, seq)).toISOString(),
    kind: 'base',
    recipe: 'boathouse',
    pass: 1,
    label: 'base',
    filter: '2',
    plannedMs: 12_500,
    onMs: 12_620,
    doseMs: 12_500,
    outcome: 'complete',
    pauses: 0,
    ...fields,
  };
}

const night = (): LoggedLight[] => [
  light({ kind: 'focus', label: '', recipe: '', plannedMs: 180_000, onMs: 61_000, doseMs: 61_000 }),
  light({ kind: 'strip', label: '', recipe: '', sheet: 1, doseMs: 5000, plannedMs: 5000 }),
  light({ kind: 'strip', label: '', recipe: '', sheet: 1, doseMs: 2071, plannedMs: 2071 }),
  light({ sheet: 2, pauses: 1 }),
  light({
    sheet: 2,
    kind: 'burn',
    label: 'sky',
    filter: '00',
    plannedMs: 8522,
    doseMs: 3100,
    outcome: 'stopped',
  }),
  light({ sheet: 3 }),
];

describe('the night by sheets', () => {
  it('has a row a sheet, and one for each time of focusing', () => {
    expect(nightRows(night()).map(({ title, lights }) => [title, lights.length])).toEqual([
      ['focusing', 1],
      ['sheet 1: test strip', 2],
      ['sheet 2: boathouse', 2],
      ['sheet 3: boathouse', 1],
    ]);
  });

  // Its two rows were two sheets: a print, and another print or a wasted one.
  it('counts a sheet that the power was cut from once, also where it is gone on with in the next run', () => {
    const ended = (outcome: 'interrupted' | 'complete', wasted: number): SheetMark => ({
      kind: 'sheet-ended',
      details: { sheet: 1, outcome, prints: 0, strips: 0, wasted },
    });
    const cut = [light({ sheet: 1 }), ended('interrupted', 1)];
    const rest = [light({ sheet: 1, boot: 2, kind: 'burn', label: 'sky' }), ended('complete', 0)];
    const focusing = light({ kind: 'focus', boot: 2, label: '', recipe: '' });
    const resumed: SheetMark = {
      kind: 'sheet-resumed',
      details: { sheet: 1, prints: 0, strips: 0, wasted: 0 },
    };
    const next = light({ sheet: 2, boot: 2 });
    for (const between of [[resumed], [focusing, resumed]])
      expect(nightTotals(nightRows([...cut, ...between, ...rest, next]))).toMatchObject({
        prints: 2,
        wasted: 0,
      });
    expect(nightTotals(nightRows([...cut, next]))).toMatchObject({ prints: 1, wasted: 1 });
    // The evening before is on another page.
    expect(nightTotals(nightRows([resumed, ...rest]))).toMatchObject({ prints: 1, wasted: 0 });
  });

  it('adds up what the lamp and the paper had', () => {
    const totals = nightTotals(nightRows(night()));
    expect(totals).toEqual({
      prints: 1,
      strips: 1,
      wasted: 1,
      underWay: 0,
      lampMs: 61_000 + 5 * 12_620,
      paperMs: 5000 + 2071 + 12_500 + 3100 + 12_500,
      cutShort: 1,
    });
  });

  it('counts a sheet that was left between passes as wasted, one gone on with as finished, one without light as none', () => {
    const ended = (sheet: number, outcome: 'complete' | 'stopped') =>
      ({ kind: 'sheet-ended', details: { sheet, outcome, prints: 0, strips: 0, wasted: 0 } }) as const;
    const left = [light({ sheet: 1 }), ended(1, 'stopped')];
    expect(nightTotals(nightRows(left))).toMatchObject({ prints: 0, strips: 0, wasted: 1 });
    const focused = light({ kind: 'focus', sheet: 0, recipe: '' });
    const goneOn = [...left, focused, light({ sheet: 1, kind: 'burn' }), ended(1, 'complete')];
    expect(nightTotals(nightRows(goneOn))).toMatchObject({ prints: 1, strips: 0, wasted: 0 });
    const none = light({ sheet: 2, onMs: 0, doseMs: 0, outcome: 'stopped' });
    expect(nightTotals(nightRows([...goneOn, none]))).toMatchObject({ prints: 1, wasted: 0, cutShort: 0 });
  });

  it('is told apart by what was printed where the log numbers no sheets', () => {
    const rows = nightRows([
      light({}),
      light({ kind: 'burn' }),
      light({ kind: 'strip', recipe: '' }),
      light({}),
    ]);
    expect(rows.map(({ kind }) => kind)).toEqual(['print', 'strip', 'print']);
  });
});

describe('tests on paper', () => {
  it('have rows of their own, a bracket under the name of what it is', () => {
    const lights = [
      light({ sheet: 4 }),
      light({ sheet: 4, kind: 'bracket', label: 'sky' }),
      light({ sheet: 5, kind: 'lamp-test' }),
      light({ sheet: 6, kind: 'safelight', label: '' }),
      light({ sheet: 7, kind: 'stray', label: '' }),
    ];
    const rows = nightRows(lights);
    expect(rows.map(({ title }) => title)).toEqual([
      'sheet 4: bracket',
      'sheet 5: lamp test',
      'sheet 6: safelight test',
      'sheet 7: stray light test',
    ]);
    // The board's tally counts brackets and tests among the strips as well.
    expect(nightTotals(rows)).toMatchObject({ prints: 0, strips: 4, lampMs: 5 * 12_620 });
    expect(nightPage(lights)).toContain('safelight test');
  });
});

describe('the page of a night', () => {
  const page = nightPage(night(), { night: '2027-03-05', timeZone: 'UTC' });

  it('says the figures, every light, and what was cut short', () => {
    expect(page).toContain(
      '1 print, 1 test strip, 1 sheet wasted, 35 s of light on paper, lamp on for 2 min 4 s, 1 exposure cut short.',
    );
    expect(page).toContain('sky (00) 3.1 s, stopped');
    expect(page).toContain('base (2) 12.5 s, 1 pause');
    expect(page).toContain('<td class="number">8.52</td><td class="number">3.10</td>');
  });

  it('gives the times of the zone that was asked for', () => {
    const winter = [light({ at: '2027-01-05T20:30:00.000Z' })];
    expect(nightPage(winter, { timeZone: 'UTC' })).toContain('20:30');
    expect(nightPage(winter, { timeZone: 'Europe/Vienna' })).toContain('21:30');
  });

  it('has a place for lights of a night without a clock, and for a night without light', () => {
    expect(nightPage([light({ at: null })])).toContain('boathouse');
    expect(nightPage([])).toContain('No light is in the log.');
  });

  it('keeps its bars on the page, from a blink to an hour', () => {
    const lights = [light({ doseMs: 1, plannedMs: 1 }), light({ doseMs: 3_600_000, plannedMs: 3_600_000 })];
    const svg = /<svg.*<\/svg>/s.exec(nightPage(lights))![0];
    const ends = [...svg.matchAll(/<rect x="([\d.]+)"[^>]* width="([\d.]+)"/g)].map(
      ([, x, width]) => Number(x) + Number(width),
    );
    expect(Math.max(...ends)).toBeLessThanOrEqual(960);
    expect(openTags(svg)).toEqual([]);
  });

  it.each(hostileTexts)('is text wherever the log says %j', (hostile) => {
    const hostilePage = nightPage([light({ label: hostile, filter: hostile, recipe: hostile })], {
      night: hostile,
    });
    expect(suspiciousParts(hostilePage)).toEqual([]);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
    expect(hostilePage).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  });
});
