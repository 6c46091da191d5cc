import { describe, expect, it } from 'vitest';
import { nightLines } from '../../../host/cli/log-views/table.js';
import { nightPage } from '../../../host/pages/night/night-page.js';
import { eventWords, isBathOrTestResult } from '../../../host/records/log/event-words.js';
import { entryOf, isExposure, type LogEntry } from '../../../host/records/log/log-entry.js';
import { schemaHash } from '../../../shared-protocol/index.js';
import { listOf } from '../../setup/list-of.js';

const EIGHT = Date.UTC(2027, 2, 5, 20);

/** Entries a minute apart; `rest` are the fields behind boot, seq and uptime, in the schema's order. */
function entries(...given: readonly (readonly [type: string, ...rest: unknown[]])[]) {
  return given.map(([type, ...rest], at): LogEntry => {
    const uptimeMs = (at + 1) * 60_000;
    const logged = { board: 'a', log: 0, boot: 1, seq: at + 2, uptimeMs, schemaHash, atMs: EIGHT + uptimeMs };
    return entryOf({ ...logged, type, fields: [1, at + 2, uptimeMs, ...rest] })!;
  });
}

const sheet = (number: number, job: string, recipe: string, ...rest: unknown[]) =>
  ['sheet', number, job, recipe, ...rest] as const;

describe('what was logged besides light, in words', () => {
  it.each<[readonly [string, ...unknown[]], string]>([
    [['started', 'power', 0], 'board started (power)'],
    [['lens'], 'lens confirmed as stopped down'],
    [['pedal-stuck', 9000], 'the pedal was stuck'],
    [
      sheet(1, 'strip', '', 0, 2000, 120, 0, 7, 'cumulative'),
      'sheet 1: strip, 7 patches from 2.000 s by +1 stop, cumulative',
    ],
    [
      sheet(2, 'strip', '', 0, 5000, 0, 2500, 4, 'separate'),
      'sheet 2: strip, 4 patches from 5.000 s by 2.500 s, separate',
    ],
    [
      sheet(3, 'recipe', 'jetty', 4, 12_500, 0, 0, 0, 'cumulative'),
      'sheet 3: recipe jetty, version 4, base 12.500 s',
    ],
    [
      sheet(4, 'bracket', 'jetty', 4, 12_500, 40, 0, 5, 'cumulative'),
      'sheet 4: bracket of recipe jetty, version 4, base 12.500 s, 5 variants by +1/3 stop, cumulative',
    ],
    [
      sheet(5, 'lamp-test', '', 0, 4000, 0, 20, 7, 'separate'),
      'sheet 5: lamp test, one long exposure and 7 patches of short ones',
    ],
    [
      sheet(6, 'safelight-test', '', 0, 2000, 0, 0, 4, 'cumulative'),
      'sheet 6: safelight test, 4 bands, grey 2.000 s',
    ],
    [
      sheet(6, 'stray-light-test', '', 0, 2000, 0, 0, 4, 'cumulative'),
      'sheet 6: stray light test, 4 bands, grey 2.000 s',
    ],
    [sheet(7, 'plain', '', 0, 10_000, 0, 0, 0, 'cumulative'), 'sheet 7: plain exposure, 10.000 s'],
    [['strip-reading', 1, 'patch', 3, 8000], 'sheet 1 read: patch 3 is right, 8.000 s'],
    [['strip-reading', 5, 'patch', 3, 0], 'sheet 5 read: patch 3 is right'],
    [['strip-reading', 1, 'between', 3, 11_314], 'sheet 1 read: between patches 3 and 4, 11.314 s'],
    [['strip-reading', 1, 'too-dark', 0, 0], 'sheet 1 read: all too dark'],
    [['strip-reading', 1, 'too-light', 0, 0], 'sheet 1 read: all too light'],
    [['recipe-change', 'jetty', 'base', 0, 0, 13_000, 0], 'recipe jetty: base turned to 13.000 s'],
    [['recipe-change', 'jetty', 'pass', 2, 0, 13_000, 60], 'recipe jetty: pass 2 turned to +1/2 stop'],
    [
      ['recipe-change', 'jetty', 'dodge', 1, 2, 13_000, -40],
      'recipe jetty: dodge 2 of pass 1 turned to -1/3 stop',
    ],
    [['recipe-version', 'jetty', 5], 'recipe jetty kept as version 5'],
    [['stopped-down', 2, 16_000], 'stopped down by 2 stops, base now 16.000 s'],
    [
      ['sheet-ended', 3, 'complete', 1, 2, 0],
      'sheet 3 complete; since the start 1 print, 2 strips and tests, 0 wasted',
    ],
    [
      ['bath-used', 1, 'developer', 2, 90_000, 90_012, 754_000, 12, 6192],
      'bath 1, developer: 2 sheets for 1m30s, out for 0:12:34 before; 12 sheets, 6192 cm2 since it was mixed',
    ],
    [
      ['bath-used', 3, 'fixer', 1, 90_000, 41_000, 0, 1, 516],
      'bath 3, fixer: 1 sheet for 41s of 1m30s; 1 sheet, 516 cm2 since it was mixed',
    ],
    [['bath-used', 3, 'fixer', 0, 0, 0, 0, 0, 0], 'bath 3, fixer: mixed fresh'],
    [
      ['bath-used', 2, 'stop', 1, 20_499, 19_500, 0, 1, 516],
      'bath 2, stop: 1 sheet for 20s; 1 sheet, 516 cm2 since it was mixed',
    ],
    [
      ['bath-used', 1, 'developer', 0, 90_000, 0, 0, 0, 0],
      'bath 1, developer: 0 sheets for 0s of 1m30s; 0 sheets, 0 cm2 since it was mixed',
    ],
    [['development', 1, 235, 0, 0, 72_400], 'bath 1: the tray at 23.5C: 1m12s'],
    [['development', 1, 0, 14_500, 6, 87_000], 'bath 1: first tone after 14.500 s, 6 times that: 1m27s'],
    [
      ['development', 2, 180, 20_000, 5, 100_000],
      'bath 2: the tray at 18C; first tone after 20.000 s, 5 times that: 1m40s',
    ],
    [
      ['sheet-resumed', 3, 1, 0, 0],
      'sheet 3 is gone on with; since the start 1 print, 0 strips and tests, 0 wasted',
    ],
    [['sheet-unused', 3], 'sheet 3 never saw light, and counts as none'],
    [['recipe-taken', 'jetty', 4], 'recipe jetty, version 4, taken as it is kept: what was turned is gone'],
    [['recipe-change', '', 'base', 0, 0, 13_000, 0], 'base turned to 13.000 s'],
    [
      ['clock', Date.UTC(2100, 0, 1)],
      'a laptop told a time that cannot be right (the year 2100); nothing is dated by it',
    ],
    [
      ['clock', Number.MAX_SAFE_INTEGER],
      'a laptop told a time that cannot be right (9007199254740991 ms since 1970); nothing is dated by it',
    ],
    [
      sheet(8, 'strip', '', 0, 5000, 60, 1, 4, 'separate'),
      'sheet 8: strip, 4 patches from 5.000 s by 0.001 s, separate',
    ],
    [sheet(9, 'none', '', 0, 0, 0, 0, 0, 'cumulative'), 'sheet 9: none'],
    [['test-result', 'lamp-lag-ms', 60], 'lamp test: the lamp loses 60 ms in each exposure'],
    [['test-result', 'safe-minutes', 3], 'safelight test: paper may lie out for 3 min'],
    [['test-result', 'safe-minutes', 0], 'safelight test: not safe, the shortest step differed'],
    [
      ['test-result', 'dark-minutes', 3],
      'stray light test: with the safelight off paper may lie out for 3 min',
    ],
    [['test-result', 'dark-minutes', 0], 'stray light test: light leaks in, the shortest step differed'],
    [['moonrise', 'full'], 'unreadable {"type":"moonrise","fields":[1,2,60000,"full"]}'],
  ])('%j is: %s', (record, words) => {
    const [entry] = entries(record);
    expect(isExposure(entry!)).toBe(false);
    expect(isBathOrTestResult(entry!)).toBe(/^(bath|lamp test|safelight test|stray light test)/.test(words));
    expect(eventWords(entry as Parameters<typeof eventWords>[0])).toBe(words);
  });
});

// Recipe, pass, patch, label, filter, planned, relay, given, outcome, pauses, sheet.
const light = (kind: string, number: number, pass: number, patch: number, label = '') =>
  ['exposure', kind, 'jetty', pass, patch, label, '', 4000, 4060, 4000, 'complete', 0, number] as const;

const night = () =>
  entries(
    light('lamp-test', 1, 0, 0),
    light('lamp-test', 1, 0, 1),
    light('safelight', 2, 0, 1),
    light('safelight', 2, 0, 2),
    light('base', 3, 1, 0, 'base'),
    light('bracket', 3, 2, 4, 'sky'),
    ['sheet-ended', 3, 'stopped', 0, 2, 1],
    light('plain', 4, 0, 0),
    ['bath-used', 2, 'stop', 2, 20_000, 20_000, 0, 2, 1032],
    ['bath-used', 3, 'fixer <b>', 2, 90_000, 90_000, 0, 2, 1032],
    ['bath-used', 2, 'stop', 1, 20_000, 20_000, 0, 3, 1548],
    ['bath-used', 2, 'stop', 0, 0, 0, 0, 0, 0],
    ['test-result', 'safe-minutes', 3],
  );

const nightText = async () => (await listOf(nightLines('2027-03-05', night()))).join('');

describe('a night of tests and baths', () => {
  it('names each light by what it was for', async () => {
    const text = await nightText();
    for (const words of [
      'one long exposure',
      'patch 1',
      'grey before',
      'grey after',
      'pass 1, base',
      'pass 2, version 4 of sky',
      'plain exposure',
    ])
      expect(text).toMatch(new RegExp(`^\\S+ +${words}  `, 'm'));
  });

  it('tells what became of the paper, each sheet once however many baths it went through', async () => {
    expect(await nightText()).toContain(
      '1 print, 2 strips, 1 sheet wasted, 3 sheets through the baths, lamp on for 0:00:28.',
    );
  });

  it('has its baths and findings on the page, as text', () => {
    const all = night();
    const page = nightPage(all.filter(isExposure), { events: all, timeZone: 'UTC' });
    expect(page).toContain('<tr><td>20:10</td><td>bath 3, fixer &lt;b&gt;: 2 sheets for 1m30s;');
    expect(page).toContain('<td>bath 2, stop: mixed fresh</td>');
    expect(page).toContain('<td>safelight test: paper may lie out for 3 min</td>');
    expect(page).not.toContain('sheet 3 stopped');
    expect(nightPage(all.filter(isExposure))).not.toContain('Baths and tests');
  });
});
