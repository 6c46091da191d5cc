import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { csvLines } from '../../../host/cli/log-views/csv.js';
import { nightList } from '../../../host/cli/log-views/night-list.js';
import { nightPage } from '../../../host/pages/night/night-page.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { entryPages, isExposure, logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';
import { ownFolder } from './archive-folder.js';
import { EveningWithAClock } from './evening-with-a-clock.js';

const fileOf = ownFolder();
const before = process.env.TZ;
beforeEach(() => {
  process.env.TZ = 'UTC';
});
afterEach(() => {
  if (before === undefined) delete process.env.TZ;
  else process.env.TZ = before;
});

interface Shown {
  /** Rows of `treadle nights`, without counts. */
  readonly nights: string[];
  /** Night, date, time and zone of each light in the CSV. */
  readonly lights: string[];
  readonly page: string;
}

/** What a printer sees of an archive: the list, the spreadsheet, and the page of a night. */
async function shown(file: string, night: string): Promise<Shown> {
  await using archive = await readArchive(file);
  const nights = nightList(await listOf(archive.nights()), new Map())
    .split('\n')
    .slice(1);
  const csv = (await listOf(csvLines(entryPages(archive.recordPages()), new Map()))).join('');
  const cells = csv.split('\r\n').map((line) => line.split(','));
  const entries = await listOf(logEntries(archive.records({ night })));
  return {
    nights: nights.map((line) => line.trim().split(/ {2,}/).slice(0, 3).join(' ')),
    lights: cells.filter((row) => row[8] === 'focus').map((row) => row.slice(0, 4).join(' ')),
    page: nightPage(entries.filter(isExposure), { events: entries, night }),
  };
}

/** Two lights, so long after each other, collected before and after. */
async function twoLights(file: string, fromMs: number, minutes: number): Promise<void> {
  const evening = new EveningWithAClock(file, fromMs);
  await evening.collect();
  evening.light();
  evening.minutes(minutes);
  evening.light();
  await evening.collect();
}

// IANA time zone database: Berlin by Directive 2000/84/EC; on Lord Howe clocks go half an hour forward and back, in the
// other half of the year.
describe.each([
  [
    'Europe/Berlin',
    'spring',
    Date.UTC(2027, 2, 28, 0, 45),
    ['2027-03-27 2027-03-28 01:45 UTC+01:00', '2027-03-27 2027-03-28 03:15 UTC+02:00'],
  ],
  [
    'Europe/Berlin',
    'autumn',
    Date.UTC(2027, 9, 31, 0, 45),
    ['2027-10-30 2027-10-31 02:45 UTC+02:00', '2027-10-30 2027-10-31 02:15 UTC+01:00'],
  ],
  [
    'Australia/Lord_Howe',
    'spring',
    Date.UTC(2027, 9, 2, 15, 15),
    ['2027-10-02 2027-10-03 01:45 UTC+10:30', '2027-10-02 2027-10-03 02:45 UTC+11:00'],
  ],
  [
    'Australia/Lord_Howe',
    'autumn',
    Date.UTC(2027, 3, 3, 14, 45),
    ['2027-04-03 2027-04-04 01:45 UTC+11:00', '2027-04-03 2027-04-04 01:45 UTC+10:30'],
  ],
])('the night in which clocks change in %s in %s', (zone, season, fromMs, wanted) => {
  it('is one night in the list, on the page and in the spreadsheet, its lights half an hour apart', async () => {
    process.env.TZ = zone;
    const file = fileOf(`${season}-${zone.replace('/', '-')}.sqlite`);
    await twoLights(file, fromMs, 30);
    const night = wanted[0]!.slice(0, 10);
    const { nights, lights, page } = await shown(file, night);
    expect(nights.map((row) => row.slice(0, 10))).toEqual([night]);
    expect(lights.map((light) => light.replace(/(\d\d:\d\d):\d\d/, '$1'))).toEqual(wanted);
    expect(page).toContain(`The night of ${night}`);
  });
});

const DAY_MINUTES = 1440;

describe('an evening', () => {
  it('in which seconds since 1970 outgrow 32 bits, on 19 January 2038 at 3:14:08 UTC, is one night', async () => {
    const file = fileOf('2038.sqlite');
    await twoLights(file, Date.UTC(2038, 0, 19, 3, 14), 1);
    const { nights, lights, page } = await shown(file, '2038-01-18');
    expect(nights).toEqual(['2038-01-18 03:14:00 03:15:15']);
    expect(lights).toEqual(['03:14:01', '03:15:09'].map((time) => `2038-01-18 2038-01-19 ${time} UTC+00:00`));
    expect(page).toContain('The night of 2038-01-18');
  });

  // 2100 is no leap year (Gregorian calendar); the board counts 32 bits of milliseconds, which go round after 49.7 days.
  it('of a board that ran on from 2099 is the 1st of March where the one before was the 28th of February', async () => {
    const file = fileOf('2100.sqlite');
    const evening = new EveningWithAClock(file, Date.UTC(2099, 11, 31, 20));
    await evening.collect();
    for (const days of [30, 29, 1]) {
      evening.minutes(days * DAY_MINUTES);
      evening.light();
    }
    await evening.collect();
    const { nights, lights } = await shown(file, '2100-02-28');
    expect(nights.map((row) => row.slice(0, 10))).toEqual([
      '2099-12-31',
      '2100-01-30',
      '2100-02-28',
      '2100-03-01',
    ]);
    expect(lights.map((light) => light.slice(0, 21))).toEqual(
      ['2100-01-30', '2100-02-28', '2100-03-01'].map((date) => `${date} ${date}`),
    );
  });
});
