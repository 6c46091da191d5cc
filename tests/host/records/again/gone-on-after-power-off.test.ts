import { expect, it } from 'vitest';
import { printedSheets } from '../../../../host/records/again/printed-sheet.js';
import type { LogEntry } from '../../../../host/records/log/log-entry.js';

const board = 'e66118604b2c2a21';
const sheet = (boot: number, number: number) =>
  ({ board, boot, at: null, night: null, kind: 'sheet', details: { sheet: number, recipe: '' } }) as const;
const light = (boot: number, number: number, pass: number, kind = 'base') => ({
  ...{ board, boot, at: null, night: null, kind, sheet: number, pass, recipe: '' },
  ...{ plannedMs: 1000, onMs: 1000, doseMs: 1000, outcome: 'complete' },
});
const resumed = (boot: number, number: number) =>
  ({
    board,
    boot,
    kind: 'sheet-resumed',
    details: { sheet: number, prints: 0, strips: 0, wasted: 0 },
  }) as const;

// Its light of the second run belonged to no sheet: `treadle again` made a print of half of it.
it('the light that a sheet gets after power-off is its own, and not that of an older sheet of its number', async () => {
  const entries = [
    ...[sheet(1, 2), light(1, 2, 1), sheet(2, 1), light(2, 1, 1), sheet(2, 2), light(2, 2, 1)],
    ...[light(3, 0, 0, 'focus'), resumed(3, 2), light(3, 2, 2), sheet(3, 3), light(3, 3, 1)],
  ] as unknown as LogEntry[];
  const sheets = await printedSheets(entries);
  expect(sheets.map(({ boot, lights }) => [boot, lights.map((given) => [given.boot, given.pass])])).toEqual([
    [1, [[1, 1]]],
    [2, [[2, 1]]],
    [
      2,
      [
        [2, 1],
        [3, 2],
      ],
    ],
    [3, [[3, 1]]],
  ]);
});
