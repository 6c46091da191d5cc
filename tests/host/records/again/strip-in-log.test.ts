import { expect, it } from 'vitest';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { stripInLog } from '../../../../host/records/again/strip-in-log.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';

const fileOf = ownFolder();
let files = 0;
type Said = readonly [type: string, ...rest: (string | number)[]];

function powerOn(boot: number, said: readonly Said[]): LogRecord[] {
  const clock: Said = ['clock', Date.UTC(2027, 2, 5, 20 + boot)];
  return [clock, ...said].map(([type, ...rest], at) => {
    const [seq, uptimeMs] = [boot * 100 + at, at * 60_000];
    return { boot, seq, uptimeMs, type, fields: [boot, seq, uptimeMs, ...rest] };
  });
}

const strip = (number: number, patches: number, cover: 'cumulative' | 'separate'): Said => [
  ...(['sheet', number, 'strip', '', 0, 2000, 120, 0, patches, cover] as const),
];
const light = (sheet: number, patch: number, doseMs: number, filter = '2'): Said => [
  ...(['exposure', 'strip', '', 0, patch, '', filter, doseMs, doseMs, doseMs, 'complete', 0, sheet] as const),
];
const read = (sheet: number, doseMs: number): Said => ['strip-reading', sheet, 'patch', 2, doseMs];

async function found(name: string, ...powerOns: (readonly Said[])[]) {
  await using archive = await openArchive(fileOf(`${++files}.sqlite`));
  for (const [at, said] of powerOns.entries()) await archive.keepRecords('a', 0, powerOn(at + 1, said));
  return await stripInLog(archive, name);
}

it('a strip covered step by step has at each patch its own light and that of all before', async () => {
  const lights = [light(1, 1, 2000), light(1, 2, 2000), light(1, 3, 1000), light(1, 3, 3000)];
  expect(await found('last', [strip(1, 3, 'cumulative'), ...lights])).toEqual({
    ...{ sheet: 1, night: '2027-03-05', dosesMs: [2000, 4000, 8000], filter: '2', chosenMs: undefined },
  });
});

it('one of single patches has at each its own, and what was chosen of it last', async () => {
  const lights = [light(4, 1, 2000, '00'), light(4, 2, 4000, '00')];
  const readings = [read(4, 2800), read(4, 0), read(4, 3100), read(3, 9000)];
  expect(await found('4', [strip(4, 2, 'separate'), ...lights, ...readings])).toMatchObject({
    ...{ dosesMs: [2000, 4000], filter: '00', chosenMs: 3100 },
  });
});

it('what was chosen on a strip of that number after the board was switched on again is of another', async () => {
  const one = [strip(1, 1, 'separate'), light(1, 1, 2000)];
  expect(await found('1.1', [...one, read(1, 2500)], [...one, read(1, 4000)])).toMatchObject({
    chosenMs: 2500,
  });
  expect(await found('last', [...one, read(1, 2500)], [...one])).toMatchObject({ chosenMs: undefined });
});

it('the last is the last that had light', async () => {
  const one = [strip(1, 1, 'separate'), light(1, 1, 2000)];
  expect(await found('last', [...one, strip(2, 2, 'separate')])).toMatchObject({ sheet: 1 });
  const plain: Said = ['sheet', 2, 'plain', '', 0, 2000, 0, 0, 0, 'cumulative'];
  expect(await found('last', [...one, plain])).toMatchObject({ sheet: 1 });
});

it('what is no strip, has none or was left says so', async () => {
  const plain: Said = ['sheet', 2, 'plain', '', 0, 2000, 0, 0, 0, 'cumulative'];
  await expect(found('2', [plain])).rejects.toThrow('sheet 2 was a print, not a test strip');
  await expect(found('last', [plain])).rejects.toThrow(/no strip was exposed in the latest night/);
  await expect(found('1', [strip(1, 2, 'cumulative'), light(1, 1, 2000)])).rejects.toThrow(
    /not exposed to its end/,
  );
  await expect(found('1', [strip(1, 1, 'separate'), light(1, 2, 2000), light(1, 0, 2000)])).rejects.toThrow(
    /not exposed to its end/,
  );
});
