import { beforeAll, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { isSheetName, sheetNamed } from '../../../../host/records/again/sheet-name.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../../host/records/archive/read-archive.js';
import { entryOf } from '../../../../host/records/log/log-entry.js';
import { schemaHash } from '../../../../shared-protocol/index.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';

const fileOf = ownFolder();
const eveningMs = Date.UTC(2027, 2, 5, 20);

/** A power-on with sheets of these numbers; without a time where none was told. */
function powerOn(
  boot: number,
  told: number | undefined,
  sheets: readonly (readonly [number, string])[],
): LogRecord[] {
  const record = (at: number, type: string, ...rest: readonly (string | number)[]): LogRecord => {
    const [seq, uptimeMs] = [boot * 100 + at, at * 60_000];
    return { boot, seq, uptimeMs, type, fields: [boot, seq, uptimeMs, ...rest] };
  };
  return [
    ...(told === undefined ? [] : [record(0, 'clock', told)]),
    ...sheets.map(([number, job], at) => {
      const recipe = job === 'recipe' ? 'jetty' : '';
      return record(at + 1, 'sheet', number, job, recipe, 3, 8000, 0, 0, 0, 'cumulative');
    }),
  ];
}

let file: string;
beforeAll(async () => {
  file = fileOf('named.sqlite');
  await using archive = await openArchive(file);
  await archive.keepRecords('a', 0, [
    ...powerOn(1, eveningMs - 86_400_000, [[1, 'recipe']]),
    ...powerOn(2, eveningMs, [
      [5, 'recipe'],
      [10, 'plain'],
    ]),
    ...powerOn(3, eveningMs + 3_600_000, [
      [2, 'recipe'],
      [5, 'plain'],
      [1, 'strip'],
    ]),
    ...powerOn(4, undefined, [[7, 'recipe']]),
  ]);
});

async function named(name: string): Promise<string> {
  await using archive = await readArchive(file);
  const { boot, sheet } = await sheetNamed(archive, name);
  return `${boot}/${sheet}`;
}

describe('a sheet is found', () => {
  it.each([
    ['10', '2/10'],
    [' 2 ', '3/2'],
    ['last/1', '3/1'],
    ['2027-03-05/2', '3/2'],
    ['2027-03-04/1', '1/1'],
    ['5.1', '2/5'],
    ['5.2', '3/5'],
    ['last', '3/5'],
    ['2027-03-04/last', '1/1'],
    ['unknown/7', '4/7'],
    ['unknown/last', '4/7'],
  ])('by the name %s', async (name, found) => {
    expect(await named(name)).toBe(found);
    expect(isSheetName(name)).toBe(true);
  });

  it.each<[string, RegExp]>([
    ['5', /2 sheets are number 5: 5\.1 is jetty, version 3, at 20:01 UTC; 5\.2 is plain, at 21:02 UTC$/],
    ['5.3', /^2 sheets are number 5 in the night of 2027-03-05, not 3$/],
    ['3', /^there is no sheet 3 in the night of 2027-03-05, but 1, 2, 5, 10$/],
    ['unknown/1', /^there is no sheet 1 among the nights without a date, but 7$/],
    ['2027-03-09/1', /^there is no sheet 1 in the night of 2027-03-09, nor any other: 'treadle nights'/],
    ['2027-03-09/last', /^no print was made in the night of 2027-03-09: 'treadle nights' lists the nights/],
    ['sheet 5', /'sheet 5' names no sheet: write 2027-03-05\/7/],
  ])('or what is there instead, by %s', async (name, words) => {
    await expect(named(name)).rejects.toThrow(words);
  });
});

it('what is known of a sheet stands where it begins and where it is gone on with, and nowhere else', () => {
  const place = { board: 'a', log: 0, boot: 1, seq: 4, uptimeMs: 0, schemaHash, atMs: null };
  const notes = { of: () => ({ endedByPower: true as const }) };
  const hasNote = (type: string, ...rest: unknown[]) =>
    'endedByPower' in entryOf({ ...place, type, fields: [1, 4, 0, ...rest] }, notes)!;
  expect(hasNote('sheet', 1, 'plain', '', 0, 8000, 0, 0, 0, 'cumulative')).toBe(true);
  expect(hasNote('sheet-resumed', 1, 0, 0, 0)).toBe(true);
  expect(hasNote('sheet-ended', 1, 'complete', 1, 0, 0)).toBe(false);
  expect(hasNote('lens')).toBe(false);
});
