import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { readRecipe } from '../../../../host/recipe/index.js';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import { recipeAgain } from '../../../../host/records/again/recipe-again.js';
import { sheetNamed } from '../../../../host/records/again/sheet-name.js';
import { sheetsBegun } from '../../../../host/records/again/sheets-begun.js';
import { stripInLog } from '../../../../host/records/again/strip-in-log.js';
import type { RecordFilter } from '../../../../host/records/archive/archive.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { logEntries } from '../../../../host/records/log/log-entry.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { printIntoArchive } from './print-into-archive.js';

const fileOf = ownFolder();
const boathouse = readRecipe(readFileSync(`${projectRoot}/host/evening/boathouse.json`));
const DAY_US = 86_400_000_000;

// What the knob turned was asked for among the records of the sheet's own night alone: printed again on the next, a sheet
// was told with the dodges that it had before they were turned.
it('a dodge that was turned on one night is in what is printed by the same recipe on the next', async () => {
  const file = fileOf('two-nights.sqlite');
  await printIntoArchive(file, boathouse, async (printer) => {
    await printer.print('boathouse', { pushes: 3, clicks: 3 });
    printer.switchOffAndOn(DAY_US);
    await printer.printInUse();
    // A laptop that tells the time dates the run.
    await printer.pair.with(async () => {});
  });
  await using archive = await openArchive(file);
  const [first, second] = await Promise.all(
    ['2027-03-05/1', '2027-03-06/1'].map(async (name) => {
      const sheet = await sheetNamed(archive, name);
      return recipeAgain(loadPlanner(), sheet, await archive.recipes('boathouse'));
    }),
  );
  expect(first!.differences).toEqual(['dodge face -1/2 -> -1/4']);
  expect(second!.differences).toEqual(first!.differences);
  expect(second!.recipe.passes).toEqual(first!.recipe.passes);
});

type Said = readonly [minute: number, type: string, ...rest: (string | number)[]];
/** Half past eleven in the morning, where the tests run. */
const MORNING_MS = new Date(2027, 2, 6, 11, 30).getTime();

let files = 0;
async function archiveOf(...runs: readonly (readonly Said[])[]) {
  const archive = await openArchive(fileOf(`${++files}.sqlite`));
  let seq = 0;
  for (const [at, said] of runs.entries())
    await archive.keepRecords(
      'a',
      0,
      said.map(([minute, type, ...rest]): LogRecord => {
        const [boot, uptimeMs] = [at + 1, minute * 60_000];
        return { boot, seq: ++seq, uptimeMs, type, fields: [boot, seq, uptimeMs, ...rest] };
      }),
    );
  return archive;
}

const clock = (minute: number, atMs = MORNING_MS + minute * 60_000): Said => [minute, 'clock', atMs];
const print = (minute: number, sheet: number): Said => [
  ...([minute, 'sheet', sheet, 'recipe', 'jetty', 2, 10_000, 0, 0, 0, 'cumulative'] as const),
];
const light = (minute: number, sheet: number, pass: number): Said => [
  ...([
    minute,
    'exposure',
    'burn',
    'jetty',
    pass,
    0,
    'sky',
    '2',
    5000,
    5000,
    5000,
    'complete',
    0,
    sheet,
  ] as const),
];
const ended = (minute: number, sheet: number): Said => [minute, 'sheet-ended', sheet, 'complete', 1, 0, 0];

async function begunIn(archive: Awaited<ReturnType<typeof archiveOf>>, filter: RecordFilter) {
  const sheets = await sheetsBegun(archive, logEntries(archive.records(filter)));
  return sheets.map(({ sheet, lights, ending, turns }) => [
    sheet,
    lights.map(({ pass }) => pass),
    ending,
    turns.length,
  ]);
}

describe('a sheet', () => {
  it('that is under the light at noon is of the day on which it was begun, with all its light', async () => {
    const before = [print(20, 1), light(21, 1, 1), ended(22, 1), print(28, 2), light(29, 2, 1)];
    const after = [light(31, 2, 2), ended(32, 2), print(33, 3), light(34, 3, 1)];
    await using archive = await archiveOf([clock(0), ...before, ...after]);
    expect(await begunIn(archive, { night: '2027-03-05' })).toEqual([
      [1, [1], 'complete', 0],
      [2, [1, 2], 'complete', 0],
    ]);
    expect(await begunIn(archive, { night: '2027-03-06' })).toEqual([[3, [1], null, 0]]);
  });

  it('that is gone on with after power-off and noon has the light of both', async () => {
    await using archive = await archiveOf(
      [clock(0), print(28, 1), light(29, 1, 1)],
      [clock(0, MORNING_MS + 31 * 60_000), [1, 'sheet-resumed', 1, 0, 0, 0], light(2, 1, 2), ended(3, 1)],
    );
    expect(await begunIn(archive, { night: '2027-03-05' })).toEqual([[1, [1, 2], 'complete', 0]]);
    expect(await begunIn(archive, { night: '2027-03-06' })).toEqual([]);
  });

  const turned = (minute: number, recipe = 'jetty'): Said => [
    minute,
    'recipe-change',
    recipe,
    'pass',
    2,
    0,
    10_000,
    60,
  ];
  const night = (day: number): Said => clock(0, MORNING_MS + day * 86_400_000);
  it.each<[string, readonly (readonly Said[])[], number]>([
    [
      'what was turned two nights before',
      [[night(0), turned(1), turned(2)], [night(1)], [night(2), print(1, 1)]],
      2,
    ],
    ['what was turned while no laptop told the time', [[night(0)], [turned(1)], [night(2), print(1, 1)]], 1],
    [
      'what was turned since it was taken from the shelf, and not before',
      [
        [night(0), turned(1), [2, 'recipe-taken', 'jetty', 2], turned(3)],
        [night(2), print(1, 1)],
      ],
      1,
    ],
    [
      'nothing of what was turned of another',
      [
        [night(0), turned(1), turned(2, 'reeds')],
        [night(2), print(1, 1)],
      ],
      0,
    ],
    [
      'nothing of what was turned after it',
      [
        [night(2), print(1, 1)],
        [night(3), turned(1)],
      ],
      0,
    ],
  ])('has %s', async (_, runs, turns) => {
    await using archive = await archiveOf(...runs);
    const [sheet] = await begunIn(archive, { night: '2027-03-07' });
    expect(sheet?.at(-1)).toBe(turns);
  });

  it('has nothing of what was turned before the storage of the board was wiped', async () => {
    await using archive = await archiveOf([night(0), turned(1)]);
    const fields = (record: Said, seq: number) => [1, seq, record[0] * 60_000, ...record.slice(2)];
    const anew = [night(2), print(1, 1)].map((said, at) => ({
      ...{ boot: 1, seq: at + 1, uptimeMs: said[0] * 60_000, type: said[1], fields: fields(said, at + 1) },
    }));
    await archive.keepRecords('a', 1, anew);
    expect(await begunIn(archive, { night: '2027-03-07' })).toEqual([[1, [], null, 0]]);
  });

  it('has what was turned between two power-ons of its night, where nothing dates the one between', async () => {
    await using archive = await archiveOf([night(0), print(1, 1)], [turned(1)], [night(0), print(1, 2)]);
    expect((await begunIn(archive, { night: '2027-03-05' })).map((sheet) => sheet.at(-1))).toEqual([0, 1]);
    expect(await begunIn(archive, { run: { board: 'a', log: 0, boot: 3 } })).toEqual([[2, [], null, 1]]);
  });
});

const strip: Said = [25, 'sheet', 1, 'strip', '', 0, 2000, 120, 0, 2, 'separate'];
const patch = (minute: number, nth: number): Said => [
  ...([minute, 'exposure', 'strip', '', 0, nth, '', '2', 2000, 2000, 2000, 'complete', 0, 1] as const),
];

it('the last strip is found whole when noon falls into it, and with what was chosen of it after noon', async () => {
  const read: Said = [35, 'strip-reading', 1, 'patch', 2, 2800];
  await using archive = await archiveOf([clock(0), strip, patch(28, 1), patch(31, 2), read, print(40, 2)]);
  const found = { sheet: 1, night: '2027-03-05', dosesMs: [2000, 2000], chosenMs: 2800 };
  expect(await stripInLog(archive, 'last')).toMatchObject(found);
  expect(await stripInLog(archive, '2027-03-05/1')).toMatchObject(found);
});
