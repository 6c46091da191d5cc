import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nightOf } from '../../../host/records/log/night.js';
import { ownFolder } from './archive-folder.js';
import { EveningWithAClock } from './evening-with-a-clock.js';

/**
 * Central European time, for its changes: on 28 March 2027 the clock goes from 2:00 to 3:00, on 31 October 2027 from
 * 3:00 back to 2:00 (Directive 2000/84/EC: last Sundays, at 1:00 UTC).
 */
const ZONE = 'Europe/Berlin';
const before = process.env.TZ;
beforeAll(() => {
  process.env.TZ = ZONE;
});
afterAll(() => {
  if (before === undefined) delete process.env.TZ;
  else process.env.TZ = before;
});

const HOUR_MS = 3_600_000;
const fileOf = ownFolder();

/** The nights of every minute from one moment to another. */
function nightsBetween(fromMs: number, toMs: number): Map<string, number> {
  const minutes = new Map<string, number>();
  for (let atMs = fromMs; atMs < toMs; atMs += 60_000) {
    const night = nightOf(atMs);
    minutes.set(night, (minutes.get(night) ?? 0) + 1);
  }
  return minutes;
}

describe('a night in which the clock is changed', () => {
  it('in spring has 23 hours, from noon to noon', () => {
    // Noon of 27 March is 11:00 UTC, noon of 28 March 10:00 UTC.
    const nights = nightsBetween(Date.UTC(2027, 2, 27, 11), Date.UTC(2027, 2, 28, 10));
    expect([...nights]).toEqual([['2027-03-27', 23 * 60]]);
    expect(nightOf(Date.UTC(2027, 2, 28, 10))).toBe('2027-03-28');
  });

  it('in autumn has 25 hours, and both hours between two and three belong to it', () => {
    const nights = nightsBetween(Date.UTC(2027, 9, 30, 10), Date.UTC(2027, 9, 31, 11));
    expect([...nights]).toEqual([['2027-10-30', 25 * 60]]);
    const twoOClockMs = Date.UTC(2027, 9, 31, 0, 30);
    expect(nightOf(twoOClockMs)).toBe(nightOf(twoOClockMs + HOUR_MS));
  });

  // Before the change, from a quarter to the hour; after it, a quarter past: half an hour in all, whatever clocks show.
  it.each([
    ['in spring', '2027-03-27', Date.UTC(2027, 2, 28, 0, 45), ['1:45', '3:15']],
    ['in autumn', '2027-10-30', Date.UTC(2027, 9, 31, 0, 45), ['2:45', '2:15']],
  ])(
    '%s keeps its prints together and in order, in the archive as well',
    async (name, night, fromMs, shown) => {
      const evening = new EveningWithAClock(fileOf(`${name}.sqlite`), fromMs);
      await evening.collect();
      evening.light();
      evening.minutes(30);
      await evening.collect();
      evening.light();
      await evening.collect();
      const entries = await evening.entries({ night });
      const lights = entries.filter(({ kind }) => kind === 'focus');
      expect(
        lights.map(({ at }) => new Date(at!).toLocaleTimeString('en-GB', { timeStyle: 'short' })),
      ).toEqual(shown.map((time) => time.padStart(5, '0')));
      const [early, late] = lights.map(({ at }) => Date.parse(at!));
      expect(Math.round((late! - early!) / 60_000)).toBe(30);
    },
  );
});
