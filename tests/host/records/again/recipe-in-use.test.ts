import { expect, it } from 'vitest';
import { printedSheets } from '../../../../host/records/again/printed-sheet.js';
import { entryOf, type LogEntry } from '../../../../host/records/log/log-entry.js';
import { schemaHash } from '../../../../shared-protocol/index.js';

// What the knob had done to the recipe in use, as the log of a board tells it.

type Said = readonly [type: string, ...rest: unknown[]];

function entries(said: readonly Said[], boot = 1, board = 'a', from = 1, log = 0): LogEntry[] {
  return said.map(([type, ...rest], at) => {
    const [seq, uptimeMs] = [from + at, at * 1000];
    const place = { board, log, boot, seq, uptimeMs, schemaHash, atMs: null };
    return entryOf({ ...place, type, fields: [boot, seq, uptimeMs, ...rest] })!;
  });
}

const sheet = (number: number, recipe: string, baseMs = 10_000): Said =>
  recipe === ''
    ? ['sheet', number, 'strip', '', 0, baseMs, 60, 0, 5, 'cumulative']
    : ['sheet', number, 'recipe', recipe, 2, baseMs, 0, 0, 0, 'cumulative'];
const turned = (recipe: string, stops120: number, baseMs = 10_000): Said => [
  'recipe-change',
  recipe,
  'pass',
  2,
  0,
  baseMs,
  stops120,
];
const baseTurned = (recipe: string, baseMs: number): Said => [
  'recipe-change',
  recipe,
  'base',
  0,
  0,
  baseMs,
  0,
];
const turn = (stops120: number) => ({ pass: 2, dodge: 0, stops120 });

it.each<[string, readonly Said[], readonly unknown[]]>([
  ['nothing of a recipe that was only chosen', [sheet(1, 'jetty')], [[[], 0]]],
  [
    'what was turned, one thing after another, for each sheet after it',
    [turned('jetty', 60), sheet(1, 'jetty'), turned('jetty', 70), sheet(2, 'jetty')],
    [
      [[turn(60)], 0],
      [[turn(60), turn(70)], 0],
    ],
  ],
  [
    'with a base that was turned as well',
    [turned('jetty', 60), baseTurned('jetty', 12_000), sheet(1, 'jetty', 12_000)],
    [[[turn(60)], 0]],
  ],
  [
    'not what was turned before, where a base comes that nothing led to: the recipe was taken anew',
    [turned('jetty', 60), sheet(1, 'jetty'), sheet(2, 'jetty', 9000)],
    [
      [[turn(60)], 0],
      [[], 0],
    ],
  ],
  [
    'nothing where it was taken from the shelf',
    [turned('jetty', 60), ['recipe-taken', 'jetty', 2], sheet(1, 'jetty', 12_000)],
    [[[], 0]],
  ],
  [
    'nothing of another recipe, also where one without a name comes between',
    [turned('jetty', 60), sheet(1, ''), sheet(2, 'jetty'), sheet(3, 'reeds'), sheet(4, 'jetty')],
    [
      [[], 0],
      [[turn(60)], 0],
      [[], 0],
      [[], 0],
    ],
  ],
  [
    'what was turned for another one later',
    [turned('jetty', 60), turned('reeds', 30, 8000), sheet(1, 'reeds', 8000)],
    [[[turn(30)], 0]],
  ],
  [
    'the lens closed, and its base made longer',
    [sheet(1, 'jetty'), ['stopped-down', 1, 20_000], ['stopped-down', 2, 80_000], sheet(2, 'jetty', 80_000)],
    [
      [[], 0],
      [[], 3],
    ],
  ],
  [
    'the base that a strip was read for; one that was read as nothing leads to none',
    [
      ...[turned('jetty', 60), ['strip-reading', 1, 'patch', 3, 8000] as const, sheet(2, 'jetty', 8000)],
      ...[['strip-reading', 2, 'too-dark', 0, 0] as const, sheet(3, 'jetty', 8000)],
    ],
    [
      [[turn(60)], 0],
      [[turn(60)], 0],
    ],
  ],
  [
    'that it was kept as a version',
    [turned('jetty', 60), ['recipe-version', 'jetty', 3], turned('jetty', 80), sheet(1, 'jetty')],
    [[[turn(60), { keptVersion: 3 }, turn(80)], 0]],
  ],
])('a sheet has %s', async (_, said, expected) => {
  const sheets = await printedSheets(entries(said));
  expect(sheets.map(({ turns, stoppedDown }) => [turns, stoppedDown])).toEqual(expected);
});

it('what was turned at one board is not turned at another, and is still so after power-off', async () => {
  const sheets = await printedSheets([
    ...entries([turned('jetty', 60)]),
    ...entries([sheet(1, 'jetty')], 2, 'a', 50),
    ...entries([sheet(1, 'jetty')], 1, 'b'),
    // Its storage was wiped.
    ...entries([sheet(1, 'jetty')], 1, 'a', 1, 1),
  ]);
  expect(sheets.map(({ board, turns }) => [board, turns])).toEqual([
    ['a', [turn(60)]],
    ['b', []],
    ['a', []],
  ]);
});

it('a sheet that never saw light is none, and its number the next one has; of the same run and board alone', async () => {
  const unused: Said = ['sheet-unused', 1];
  const sheets = await printedSheets([
    ...entries([sheet(1, 'jetty')], 1, 'b'),
    ...entries([sheet(1, 'jetty')], 1),
    ...entries([sheet(1, 'jetty'), unused, sheet(1, 'reeds'), sheet(2, 'reeds')], 2, 'a', 50),
    ...entries([unused], 3, 'a', 90),
  ]);
  expect(sheets.map(({ board, boot, sheet: number, recipe }) => [board, boot, number, recipe])).toEqual([
    ['b', 1, 1, 'jetty'],
    ['a', 1, 1, 'jetty'],
    ['a', 2, 1, 'reeds'],
    ['a', 2, 2, 'reeds'],
  ]);
});
