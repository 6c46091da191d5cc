import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { datesOf, type RunPoint } from '../../../host/records/archive/dating.js';
import { entriesThroughArchive } from './through-the-archive.js';

const DAY_MS = 86_400_000;
const ROUND_MS = 2 ** 32;
const EVENING_MS = Date.UTC(2027, 2, 5, 20);

/** One record of a board that stays up for months: how long after the one before, and what the laptop told. */
interface Told {
  readonly afterMs: number;
  /** How wrong the laptop's clock is when it tells the time; null for a record that is no clock mark. */
  readonly wrongMs: number | null;
}

const told: fc.Arbitrary<Told> = fc.record({
  afterMs: fc.oneof(
    fc.integer({ min: 0, max: 60_000 }),
    fc.integer({ min: 0, max: 48 * DAY_MS }),
    // Light is logged when it is over, by when it began.
    fc.integer({ min: -180_000, max: 0 }),
  ),
  wrongMs: fc.option(fc.constantFrom(0, 0, 0, -3_600_000, 3_600_000, -20 * DAY_MS, 20 * DAY_MS)),
});

/** What a board and a laptop make of it: the board counts milliseconds in 32 bits. */
function pointsOf(run: readonly Told[]): { points: RunPoint[]; elapsedMs: number[] } {
  const elapsedMs: number[] = [];
  const points = run.map(({ afterMs, wrongMs }, at): RunPoint => {
    elapsedMs.push(Math.max(0, (elapsedMs[at - 1] ?? 0) + afterMs));
    const uptimeMs = elapsedMs[at]! % ROUND_MS;
    return wrongMs === null ? { uptimeMs } : { uptimeMs, toldMs: EVENING_MS + elapsedMs[at]! + wrongMs };
  });
  return { points, elapsedMs };
}

/** The same from the time that really passed, in a few words: a clock that was set back is not believed. */
function modelDates(run: readonly Told[], elapsedMs: readonly number[]): (number | null)[] {
  let startMs: number | null = null;
  const starts = run.map(({ wrongMs }) => {
    if (wrongMs !== null) startMs = Math.max(startMs ?? Number.NEGATIVE_INFINITY, EVENING_MS + wrongMs);
    return startMs;
  });
  const first = starts.find((start) => start !== null) ?? null;
  return starts.map((start, at) => {
    const from = start ?? first;
    return from === null ? null : from + elapsedMs[at]!;
  });
}

describe('the dates of a run', () => {
  // The difference between two uptimes was taken the shorter way round: 25 days after a mark it pointed back in time,
  // before the board had started.
  // What a laptop sent as the cable was pulled was taken for the time when it was heard, seven weeks and a round later.
  it('pass over a mark whose line lay in the wire for weeks', () => {
    const firstMs = 1_804_276_800_760;
    const roundMs = 2 ** 32;
    const points = [
      { uptimeMs: 814, toldMs: firstMs },
      { uptimeMs: 4800 },
      { uptimeMs: 2_821_436_134, toldMs: firstMs + 1274 },
      { uptimeMs: 2_821_436_147, toldMs: firstMs + roundMs + 2_821_435_333 },
    ];
    expect(datesOf(points)).toEqual([
      firstMs,
      firstMs + 3986,
      firstMs + roundMs + 2_821_435_320,
      firstMs + roundMs + 2_821_435_333,
    ]);
  });

  it('are those of the time that really passed, over months, with clocks that are corrected and set back', () => {
    fc.assert(
      fc.property(fc.array(told, { minLength: 1, maxLength: 12 }), (run) => {
        const { points, elapsedMs } = pointsOf(run);
        expect(datesOf(points)).toEqual(modelDates(run, elapsedMs));
      }),
      { numRuns: 2000, seed: 20270305 },
    );
  });

  it('are the same however the log was collected, a part at a time', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(told, { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 1, max: 5 }),
        async (run, batch) => {
          const { points, elapsedMs } = pointsOf(run);
          const records = points.map(({ uptimeMs, toldMs }, at) => {
            const seq = at + 1;
            const fields = [1, seq, uptimeMs, ...(toldMs == null ? [] : [toldMs])];
            const type = toldMs == null ? 'lens' : 'clock';
            return { board: 'a', log: 0, boot: 1, seq, uptimeMs, type, fields };
          });
          const entries = await entriesThroughArchive(records, { batch });
          const expected = modelDates(run, elapsedMs).map((ms) => ms && new Date(ms).toISOString());
          for (const { seq, at } of entries) expect(at).toBe(expected[seq - 1]);
        },
      ),
      { numRuns: 15, seed: 20270305 },
    );
  }, 120_000);

  // The rounds were put between the second and the third record, which a world with a rest of 98.7 days found.
  it('are right on both sides of a pause that is some hours less than whole rounds', () => {
    const elapsedMs = [10, 4_800, 2 * ROUND_MS - 18 * 3_600_000, 2 * ROUND_MS];
    const points = elapsedMs.map((ms, at): RunPoint => {
      const isMark = at === 0 || at === 3;
      return { uptimeMs: ms % ROUND_MS, ...(isMark && { toldMs: EVENING_MS + ms }) };
    });
    expect(datesOf(points)).toEqual(elapsedMs.map((ms) => EVENING_MS + ms));
  });

  it('are right on both sides of a round that nothing was logged in: marks before and after must agree', () => {
    const days = [0, 1, 91, 91.5];
    const points = days.map((day) => ({ uptimeMs: (day * DAY_MS) % ROUND_MS }));
    const marks = points.map((point, at) => ({ ...point, toldMs: EVENING_MS + days[at]! * DAY_MS }));
    const dates = days.map((day) => EVENING_MS + day * DAY_MS);
    expect(datesOf([marks[0]!, points[1]!, points[2]!, marks[3]!])).toEqual(dates);
    expect(datesOf([points[0]!, marks[1]!, points[2]!, marks[3]!])).toEqual(dates);
  });

  // 'set-clock' took any number once, and one of these in a log ended the reading of everything with 'Invalid time value'.
  it.each([
    Number.MAX_SAFE_INTEGER,
    0,
    -1,
    Number.MIN_SAFE_INTEGER,
    Date.UTC(1970, 0, 2),
    Date.UTC(2100, 0, 1),
    1e300,
  ])('take no notice of a mark that says %d', (absurdMs) => {
    const mark = { uptimeMs: 2000, toldMs: EVENING_MS + 2000 };
    const points = [
      { uptimeMs: 0, toldMs: absurdMs },
      { uptimeMs: 1000 },
      mark,
      { uptimeMs: 3000, toldMs: absurdMs },
    ];
    expect(datesOf(points)).toEqual([0, 1000, 2000, 3000].map((ms) => EVENING_MS + ms));
    expect(datesOf([points[0]!, points[1]!])).toEqual([null, null]);
  });

  it('are shown with a word about such a mark, and every other entry keeps its own', async () => {
    const record = (seq: number, type: string, ...rest: unknown[]) => {
      const uptimeMs = seq * 1000;
      return { board: 'a', log: 0, boot: 1, seq, uptimeMs, type, fields: [1, seq, uptimeMs, ...rest] };
    };
    const entries = await entriesThroughArchive([
      record(1, 'clock', Number.MAX_SAFE_INTEGER),
      record(2, 'lens'),
      record(3, 'clock', EVENING_MS),
      record(4, 'clock', 0),
      record(5, 'lens'),
    ]);
    expect(entries.map(({ kind, at }) => [kind, at])).toEqual([
      ['unusable-clock', '2027-03-05T19:59:58.000Z'],
      ['lens', '2027-03-05T19:59:59.000Z'],
      ['unusable-clock', '2027-03-05T20:00:01.000Z'],
      ['lens', '2027-03-05T20:00:02.000Z'],
    ]);
  });
});
