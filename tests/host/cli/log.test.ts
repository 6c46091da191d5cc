import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { csvCell } from '../../../host/cli/log-views/csv-cell.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { treadle } from './treadle.js';

const eveningMs = Date.UTC(2027, 2, 5, 20, 15);

// Fields as the schema has them: boot, seq, uptimeMs, and what the type adds.
function record(seq: number, uptimeMs: number, type: string, ...rest: unknown[]): LogRecord {
  return { boot: 1, seq, uptimeMs, type, fields: [1, seq, uptimeMs, ...rest] };
}

function exposure(seq: number, uptimeMs: number, label: string): LogRecord {
  const [plannedMs, onMs, doseMs, pauses, sheet] = [8522, 8642, 8522, 1, 1];
  const what = ['burn', 'boathouse', 2, 0, label, '00'];
  return record(seq, uptimeMs, 'exposure', ...what, plannedMs, onMs, doseMs, 'complete', pauses, sheet);
}

const evening: LogRecord[] = [
  record(1, 0, 'started', 'power', 0),
  record(2, 1000, 'clock', eveningMs),
  record(3, 61_000, 'sheet', 1, 'recipe', 'boathouse', 1, 12_500, 0, 0, 0, 'cumulative'),
  exposure(4, 91_000, '=1+1\u202e'),
  // After midnight, and after noon: the same night, and the next one.
  exposure(5, 5 * 3_600_000, 'sky'),
  exposure(6, 24 * 3_600_000, 'sky'),
];

describe('treadle nights', () => {
  let folder: string;
  let file: string;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
    file = join(folder, 'archive.sqlite');
    const archive = await openArchive(file);
    await archive.keepRecords('0123456789abcdef', 0, evening);
    await archive.close();
  });
  afterAll(() => rmSync(folder, { recursive: true }));
  const log = (...words: string[]) => treadle(['nights', '--archive', file, ...words]);

  it('tells one object an entry, with the fields that scripts rely on', async () => {
    const { code, out } = await log('--json');
    expect(code).toBe(0);
    const entries = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(entries.map(({ seq }) => seq)).toEqual([1, 3, 4, 5, 6]);
    expect(entries[3]).toMatchObject({
      ...{ seq: 5, boot: 1, at: '2027-03-06T01:14:59.000Z', kind: 'burn', recipe: 'boathouse', pass: 2 },
      ...{
        label: 'sky',
        filter: '00',
        plannedMs: 8522,
        onMs: 8642,
        doseMs: 8522,
        outcome: 'complete',
        pauses: 1,
      },
    });
  });

  // Common practice, no source: an evening's work goes on past midnight. Process clock: TZ=UTC.
  it('tells a night from noon to noon', async () => {
    const { out } = await log('--night', '2027-03-05', '--json');
    expect(
      out
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line).seq),
    ).toEqual([1, 3, 4, 5]);
  });

  it('reads as a table for people, and cannot steer their terminal', async () => {
    const { out } = await log('--night', '2027-03-05');
    expect(out).toBe(`Night of 2027-03-05
time      what                  filter  planned    given  lamp on
20:14:59  board started (power)
20:16:00  sheet 1: recipe boathouse, version 1, base 12.500 s
20:16:30    pass 2, burn =1+1\ufffd  00      8.522 s  8.522 s  8.642 s  1 pause
01:14:59    pass 2, burn sky    00      8.522 s  8.522 s  8.642 s  1 pause

0 prints, 0 strips, 1 sheet still under way, lamp on for 0:00:17.
`);
  });

  it('says so when there is nothing of that night, and which nights there are', async () => {
    const ran = await log('--night', '2027-03-04');
    expect(ran).toMatchObject({ code: 0, out: '' });
    expect(ran.err).toBe('Nothing was logged that night. There are entries of 2027-03-05, 2027-03-06.\n');
  });

  it('goes to a spreadsheet as RFC 4180 has it', async () => {
    const lines = (await log('--csv')).out.split('\r\n');
    expect(lines[0]).toMatch(/^night,date,time,zone,board,power-on,number,/);
    expect(lines[3]).toContain(`,burn,boathouse,1,2,0,'=1+1\ufffd,00,8.522,8.642,8.522,complete,1,`);
    expect(lines).toHaveLength(1 + 5 + 1);
  });

  it.each(['2027-02-30', '05.03.2027', 'yesterday'])('is told no night as %s', async (night) => {
    const ran = await log('--night', night);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(`'${night}' is no date`);
  });

  it('are listed when none is named, a line for each', async () => {
    const { out } = await log();
    expect(out).toBe(`night       from      to        sheets  exposures  entries
2027-03-05  20:14:59  01:14:59       1          2        5
2027-03-06  20:14:59  20:14:59       0          1        1
`);
    expect((await log('--night', 'last', '--json')).out).toContain('"seq":6');
  });

  it('becomes a page with a time line of the lamp', async () => {
    const page = join(folder, 'night.html');
    expect((await log('--night', '2027-03-05', '--html', page)).code).toBe(0);
    expect(readFileSync(page, 'utf8')).toContain('<svg');
    expect((await log('--html', page)).err).toContain('is there already');
  });

  it('becomes no page where there is more than a page has room for, and says what to do instead', async () => {
    const [full, page] = [join(folder, 'full.sqlite'), join(folder, 'full.html')];
    await using archive = await openArchive(full);
    const entries = Array.from({ length: 20_001 }, (_, at) => record(at + 1, at * 1000, 'lens'));
    await archive.keepRecords('0123456789abcdef', 0, entries);
    const { code, err } = await treadle(['nights', '--archive', full, '--html', page]);
    expect(code).toBe(2);
    expect(err).toMatch(/--html: a page has room for 20000 entries, .*name one night, or take --csv/);
    expect(existsSync(page)).toBe(false);
  });

  it('refuses a file that is no archive', async () => {
    const ran = await treadle(['nights', '--archive', new URL(import.meta.url).pathname]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('this file is no archive');
  });
});

describe('a cell of a spreadsheet', () => {
  // OWASP, "CSV Injection": cells that begin with =, +, -, @, tab or carriage return, and their wide forms.
  it.each(['=1+1', '+1/3', '-1/2', '@sum', '\tx', '\rx', '＝1'])('%j is never a formula', (text) => {
    expect(csvCell(text).replace(/^"/, '')).toMatch(/^'/);
  });

  // The same, of other separators: a spreadsheet whose decimal point is a comma parts cells by semicolons, and takes
  // a quote inside a cell for a letter, so that 'a;=1+1' was a cell 'a' and a sum.
  it.each([
    ['a;=1+1', `"a;'=1+1"`],
    ['a; "=1+1"', `"a; ""'=1+1"""`],
    ['a|@sum', `"a|'@sum"`],
    ['a;b', '"a;b"'],
    ['sky, -1/2', '"sky, -1/2"'],
  ])('%j is no formula either where another separator is meant', (text, cell) => {
    expect(csvCell(text)).toBe(cell);
  });

  it('neither steers a terminal nor turns the reading direction', () => {
    expect(csvCell('a\u009b31m\u202eb')).toBe('a\ufffd31m\ufffdb');
  });

  // RFC 4180 section 2, rules 5 to 7.
  it('is quoted where it holds a comma, a quote or a line break', () => {
    expect(csvCell('sky, left')).toBe('"sky, left"');
    expect(csvCell('the "sky"')).toBe('"the ""sky"""');
    expect(csvCell('sky')).toBe('sky');
  });
});
