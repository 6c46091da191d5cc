import { describe, expect, it } from 'vitest';
import { isExposure } from '../../../host/records/log/log-entry.js';
import { nightOf } from '../../../host/records/log/night.js';
import { entriesThroughArchive, type ToldRecord } from './through-the-archive.js';

/** What a test says of a record; `rest` are the fields behind boot, seq and uptime. */
type Given = Partial<ToldRecord> & { readonly type: string; readonly rest?: readonly unknown[] };

function records(...given: readonly Given[]): ToldRecord[] {
  return given.map(({ rest = [], ...each }, at) => {
    const record = { board: 'a', log: 0, boot: 1, seq: at + 1, uptimeMs: 0, ...each };
    return { ...record, fields: [record.boot, record.seq, record.uptimeMs, ...rest] };
  });
}

const exposure = ['burn', 'jetty', 2, 0, 'sky', '00', 8000, 8056, 8000, 'complete', 1, 3] as const;
const NINE = Date.UTC(2027, 2, 5, 21);

describe('the log as scripts read it', () => {
  it('has an object for each exposure, with the fields that are promised', async () => {
    const [entry] = await entriesThroughArchive(
      records(
        { type: 'clock', uptimeMs: 60_000, rest: [NINE] },
        { type: 'exposure', uptimeMs: 90_500, rest: exposure },
      ),
    );
    expect(entry).toMatchObject({
      seq: 2,
      boot: 1,
      at: '2027-03-05T21:00:30.500Z',
      kind: 'burn',
      recipe: 'jetty',
      pass: 2,
      label: 'sky',
      filter: '00',
      plannedMs: 8000,
      onMs: 8056,
      doseMs: 8000,
      outcome: 'complete',
      pauses: 1,
    });
    expect(Object.keys(entry!).slice(0, 13).join()).toBe(
      'seq,boot,at,kind,recipe,pass,label,filter,plannedMs,onMs,doseMs,outcome,pauses',
    );
  });

  it('tells what else happened by its kind, and keeps what this version cannot read', async () => {
    const entries = await entriesThroughArchive(
      records(
        { type: 'started', rest: ['trap', 5] },
        { type: 'lens' },
        { type: 'pedal-stuck', rest: [10_000] },
        { type: 'moonrise', rest: ['full'] },
        { type: 'lens', rest: ['a field too many'] },
        { type: 'exposure', rest: ['burn', 'a name with blanks', ...exposure.slice(2)] },
      ),
    );
    expect(entries.map(({ kind }) => kind)).toEqual([
      'started',
      'lens',
      'pedal-stuck',
      ...['unreadable', 'unreadable', 'unreadable'],
    ]);
    expect(entries[0]).toMatchObject({ details: { cause: 'trap', detail: 5 } });
    expect(entries.some(isExposure)).toBe(false);
  });
});

describe('the time of an entry', () => {
  const at = async (...given: readonly Given[]) =>
    (await entriesThroughArchive(records(...given))).map((entry) => entry.at);

  it('is reckoned from the last time told before it, or else the first after it', async () => {
    expect(
      await at(
        { type: 'lens', uptimeMs: 1000 },
        { type: 'clock', uptimeMs: 5000, rest: [NINE] },
        { type: 'lens', uptimeMs: 6000 },
        { type: 'clock', uptimeMs: 8000, rest: [NINE + 60_000] },
        { type: 'lens', uptimeMs: 9000 },
      ),
    ).toEqual(['2027-03-05T20:59:56.000Z', '2027-03-05T21:00:01.000Z', '2027-03-05T21:01:01.000Z']);
  });

  it('is not known in a run that no laptop told the time in, and runs of other boards do not help', async () => {
    expect(
      await at(
        { type: 'clock', rest: [NINE] },
        { type: 'lens', boot: 2 },
        { type: 'lens', board: 'b' },
        { type: 'lens', log: 1 },
        { type: 'lens' },
      ),
    ).toEqual([null, '2027-03-05T21:00:00.000Z', null, null]);
  });

  it("goes on where the board's milliseconds begin anew after seven weeks", async () => {
    expect(
      await at({ type: 'clock', uptimeMs: 2 ** 32 - 1000, rest: [NINE] }, { type: 'lens', uptimeMs: 2000 }),
    ).toEqual(['2027-03-05T21:00:03.000Z']);
  });
});

describe('a night', () => {
  it('runs from noon to noon, local time', () => {
    expect(nightOf(new Date(2027, 2, 5, 12, 0).getTime())).toBe('2027-03-05');
    expect(nightOf(new Date(2027, 2, 6, 11, 59).getTime())).toBe('2027-03-05');
    expect(nightOf(new Date(2027, 2, 6, 12, 0).getTime())).toBe('2027-03-06');
    expect(nightOf(new Date(2027, 0, 1, 3, 0).getTime())).toBe('2026-12-31');
  });

  it('holds the entries of its evening and of the small hours', async () => {
    const hours = (hour: number, day = 5) => new Date(2027, 2, day, hour).getTime();
    const entries = await entriesThroughArchive(
      records(
        { type: 'clock', boot: 1, rest: [hours(11)] },
        { type: 'lens', boot: 1 },
        { type: 'clock', boot: 2, rest: [hours(22)] },
        { type: 'lens', boot: 2 },
        { type: 'clock', boot: 3, rest: [hours(2, 6)] },
        { type: 'lens', boot: 3 },
        { type: 'lens', boot: 4 },
      ),
      { filter: { night: '2027-03-05' } },
    );
    expect(entries.map(({ boot }) => boot)).toEqual([2, 3]);
  });
});
