import { expect, it } from 'vitest';
import { Random } from '../../../setup/random.js';
import { playDarkEvening } from './dark-evening.js';
import { EveningBench } from './evening-bench.js';
import { frozen, placeOf } from './kept-document.js';
import { anyEvent, anyGesture, anyWork } from './random-evening.js';

// What evenings leave on the flash, read byte by byte, against shared-protocol/frozen-formats.json, which outlives every version.

const SECTOR_BYTES = 4096;
const RING_SECTORS = 284;
const SHELF_AT = 0x12_0000;
const [BEGUN, ENDED, WHOLE] = [1, 2, 3];
/** What it took, in whole milliseconds, how it ended and how often it was paused. */
const ENDED_BYTES = 4 + 4 + 1 + 1;

/** Name and bytes by the number of its kind. */
const entryKinds = new Map(
  Object.entries(frozen).flatMap(([key, kind]) => {
    const name = /^log entry\/(.+)$/.exec(key)?.[1];
    return name === undefined
      ? []
      : [[kind as number, { name, bytes: frozen[`message ${name}/bytes`] }] as const];
  }),
);

interface KeptRecord {
  readonly type: number;
  readonly kind: number;
  readonly length: number;
}

function* recordsOf({ board: { flash } }: EveningBench): Generator<KeptRecord> {
  for (let sector = 0; sector < RING_SECTORS; sector++) {
    const bytes = Buffer.from(flash.read(sector * SECTOR_BYTES, SECTOR_BYTES));
    for (let at = 32; at < SECTOR_BYTES; at += 32) {
      const record = { type: bytes[at]!, kind: bytes[at + 1]!, length: bytes.readUInt16LE(at + 2) };
      if (record.type === 0xff) continue;
      yield record;
      at += 32 * (Math.ceil((16 + record.length) / 32) - 1);
    }
  }
}

function randomEvening(seed: number): EveningBench {
  const random = new Random(seed);
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-clock', id: 0, epochMs: 1_800_000_000_000 });
  bench.ask({ type: 'set-setting', id: 0, name: 'tray-c10', value: 200 });
  anyWork(bench, random);
  for (let event = 0; event < 200; event++) {
    if (random.chance(0.8)) anyGesture(bench, random);
    else anyEvent(bench, random);
  }
  bench.board.pedal(true);
  bench.seconds(100);
  bench.board.pedal(false);
  return bench;
}

it('every entry of the log takes the bytes that its kind has for ever, and most kinds are among them', () => {
  const dark = new EveningBench();
  playDarkEvening(dark);
  dark.ask({ type: 'bath-renew', id: 0, bath: 1 });
  const seen = new Set<string>();
  for (const bench of [dark, ...[1, 2, 3, 4].map(randomEvening)]) {
    for (const { type, kind, length } of recordsOf(bench)) {
      const { name, bytes } = entryKinds.get(kind) ?? {};
      expect([BEGUN, ENDED, WHOLE]).toContain(type);
      if (type === ENDED) {
        expect(length >= ENDED_BYTES && length < ENDED_BYTES + 8).toBe(true);
        continue;
      }
      expect([name, length]).toEqual([name, bytes]);
      seen.add(name!);
    }
  }
  expect(entryKinds.size - seen.size, [...seen].join(' ')).toBeLessThan(4);
});

/** Of each part of a document the bytes; what it is made of follows from the parts before. */
const partBytes = (part: string) => frozen[`message ${part}/bytes`] as number;
const [BEGIN, HEAD, TEXT, PASS, DODGE, FINE] = ['begin', 'head', 'text', 'pass', 'dodge', 'fine'].map(
  (part) => partBytes(`recipe-${part}`),
) as [number, number, number, number, number, number];

/** Of a recipe or a row, from what stands in its beginning. */
function bytesOf(kind: number, body: Buffer): number[] | undefined {
  switch (kind) {
    case frozen['document/recipe']:
    case frozen['document/unkept-recipe']: {
      const [passes, dodges] = [
        body[placeOf('recipe-begin', 'passes')]!,
        body[placeOf('recipe-begin', 'dodges')]!,
      ];
      const whole = BEGIN + HEAD + 3 * TEXT + passes * PASS + dodges * DODGE;
      return [whole, whole + (passes + dodges) * FINE];
    }
    case frozen['document/baths']:
      return [body[placeOf('bath', 'baths')]! * partBytes('bath')];
    case frozen['document/points']:
      return [body[placeOf('bath-point', 'points')]! * partBytes('bath-point')];
    case frozen['document/board-name']:
      return [partBytes('board-name')];
    default:
      return undefined;
  }
}

/** Of how many records a row of baths or of times is, and where each has its number: they lie one behind another. */
function expectInTheirPlaces(kind: number, body: Buffer): void {
  for (const [document, record, number, count] of [
    ['baths', 'bath', 'bath', 'baths'],
    ['points', 'bath-point', 'point', 'points'],
  ] as const) {
    if (kind !== frozen[`document/${document}`]) continue;
    const numbers = Array.from(
      { length: body[placeOf(record, count)]! },
      (_, at) => body[at * partBytes(record) + placeOf(record, number)],
    );
    expect(numbers).toEqual(numbers.map((_, at) => at + 1));
  }
}

it('every document on the shelf takes the bytes that its parts have for ever', () => {
  const bench = new EveningBench();
  bench.greet();
  const times = { resinCoatedSeconds: 60, fibreSeconds: 90, drainSeconds: 5, agitationSeconds: 15 };
  for (const bath of [1, 2, 3])
    bench.ask({ type: 'bath-set', id: 0, bath, baths: 3, label: `bath ${bath}`, ...times, limitCm2: 0 });
  for (const point of [1, 2, 3])
    bench.ask({
      type: 'point-set',
      id: 0,
      point,
      points: 3,
      label: 'bath 1',
      trayC10: 190 + point,
      ...{ resinCoatedSeconds: 70, fibreSeconds: 80 },
    });
  bench.ask({ type: 'name-set', id: 0, name: 'by the sink' });
  playDarkEvening(bench);
  bench.ask({ type: 'bath-renew', id: 0, bath: 2 });
  const seen = new Set<number>();
  for (let at = SHELF_AT; at < SHELF_AT + 96 * SECTOR_BYTES; at += SECTOR_BYTES) {
    const sector = Buffer.from(bench.board.flash.read(at, SECTOR_BYTES));
    const [length, kind] = [sector.readUInt16LE(16 + 12), sector[16 + 14]!];
    const bytes = bytesOf(kind, sector.subarray(64));
    if (kind === 0 || kind === 0xff || bytes === undefined) continue;
    expect(bytes, `document of kind ${kind}`).toContain(length);
    expectInTheirPlaces(kind, sector.subarray(64));
    seen.add(kind);
  }
  expect(seen.size).toBe(5);
});
