import { expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import type { Archive, ArchivedRecord, ArchiveReader } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { nightOf } from '../../../host/records/log/night.js';
import { ownFolder } from '../../proof/robustness/archive-folder.js';
import { listOf } from '../../setup/list-of.js';
import { Random } from '../../setup/random.js';

// What an archive tells by its tables and indexes, against every record looked at one by one.

const fileOf = ownFolder();
const BOARDS = ['00000000000000b2', '00000000000000a1'];
const RECIPES = ['jetty', 'reeds', ''];
const HOUR_MS = 3_600_000;
const startMs = Date.UTC(2027, 2, 5, 18);

/** A log of some power-ons in two numberings, with sheets of some recipes; in some of them a laptop told the time. */
function someLog(random: Random): { readonly log: number; readonly records: LogRecord[] }[] {
  let boot = 0;
  return [0, 1].map((log) => {
    const records: LogRecord[] = [];
    for (let run = 1; run <= 4; run++) {
      boot++;
      const clockAt = random.chance(0.6) ? 0 : -1;
      for (let at = 0; at < random.between(2, 8); at++) {
        const [seq, uptimeMs] = [records.length + 1, at * HOUR_MS];
        const sheet = [
          at,
          'recipe',
          RECIPES[random.below(3)]!,
          1 + random.below(2),
          8000,
          0,
          0,
          0,
          'cumulative',
        ];
        const [type, rest] =
          at === clockAt
            ? (['clock', [startMs + boot * 9 * HOUR_MS]] as const)
            : random.chance(0.7)
              ? (['sheet', sheet] as const)
              : (['lens', []] as const);
        records.push({ boot, seq, uptimeMs, type, fields: [boot, seq, uptimeMs, ...rest] });
      }
    }
    return { log, records };
  });
}

/** Dates some of the runs without one by hand, as far as their neighbours allow it. */
async function dateSome(archive: Archive, random: Random): Promise<void> {
  for (const { undated } of await listOf(archive.nights()))
    for (const { board, log, boot } of undated)
      if (random.chance(0.5))
        await archive
          .dateByHand({ board, log, boot }, nightOf(startMs + boot * 9 * HOUR_MS))
          .catch((error: Error) => expect(error.name).toBe('NightOutOfOrder'));
}

type Dated = ArchivedRecord & { readonly night: string | null };

async function every(archive: ArchiveReader): Promise<Dated[]> {
  const records = await listOf(archive.records());
  return records.map((one) => ({
    ...one,
    night: one.atMs === null ? (one.nightByHand ?? null) : nightOf(one.atMs),
  }));
}

const sheetsOf = (all: readonly Dated[], recipe: string, version?: number) =>
  all.filter(
    ({ type, fields }) =>
      type === 'sheet' && fields[5] === recipe && (version === undefined || fields[6] === version),
  );
const keyOf = ({ night, board, log, boot }: Pick<Dated, 'night' | 'board' | 'log' | 'boot'>) =>
  night ?? `${board} ${log} ${boot}`;
const latestOf = (records: readonly Dated[]) =>
  records.reduce<number | null>((last, { atMs }) => (atMs === null ? last : Math.max(last ?? 0, atMs)), null);

it.each([1, 2, 3, 4, 5, 6])('is what the records tell (seed %i)', async (seed) => {
  const random = new Random(seed);
  await using archive = await openArchive(fileOf(`scan-${seed}.sqlite`));
  for (const board of BOARDS)
    for (const { log, records } of someLog(random)) await archive.keepRecords(board, log, records);
  await dateSome(archive, random);
  const all = await every(archive);

  expect(await archive.boards()).toEqual([...BOARDS].sort());
  expect(all.map(({ board, log, seq }) => [board, log, seq])).toEqual(
    all
      .toSorted((a, b) => (a.board === b.board ? a.log - b.log || a.seq - b.seq : a.board < b.board ? -1 : 1))
      .map(({ board, log, seq }) => [board, log, seq]),
  );
  for (const board of [undefined, ...BOARDS]) {
    const own = all.filter((one) => board === undefined || one.board === board);
    const nights = own.flatMap(({ night }) => night ?? []).sort();
    expect(await archive.latestNight(board === undefined ? {} : { board })).toBe(nights.at(-1));
    for (const night of [null, ...new Set(nights)]) {
      const filter = { night, ...(board !== undefined && { board }) };
      const place = ({ board: id, log, boot, seq }: ArchivedRecord) => [id, log, boot, seq];
      expect((await listOf(archive.records(filter))).map(place)).toEqual(
        own.filter((one) => one.night === night).map(place),
      );
    }
  }
  for (const recipe of ['jetty', 'reeds', 'never-printed']) {
    const sheets = sheetsOf(all, recipe);
    const nights = await archive.nightsOf(recipe);
    const told = nights.map(({ night, run }) => (night ?? keyOf({ night: null, ...run! })) as string);
    expect(told.toSorted()).toEqual([...new Set(sheets.map(keyOf))].sort());
    for (const version of [1, 2, 3]) {
      const own = sheetsOf(all, recipe, version);
      const latest = await archive.latestPrint(recipe, version);
      if (own.length === 0) expect(latest).toBeUndefined();
      else expect(latest!.atMs).toBe(latestOf(own));
    }
  }
  const printed = await archive.printedRecipes();
  expect(printed.map(({ name }) => name).toSorted()).toEqual(
    ['jetty', 'reeds'].filter((recipe) => sheetsOf(all, recipe).length > 0),
  );
  for (const { name, sheets, lastMs } of printed)
    expect([name, sheets, lastMs]).toEqual([name, sheetsOf(all, name).length, latestOf(sheetsOf(all, name))]);
  const lasts = printed.map(({ lastMs }) => lastMs ?? 0);
  expect(lasts).toEqual(lasts.toSorted((one, other) => other - one));
});
