import { expect, it } from 'vitest';
import { partsOfRecipe, recipeFromParts } from '../../../../host/recipe/recipe-messages.js';
import type { Message } from '../../../../shared-protocol/index.js';
import { boathouse } from '../evening/boathouse.js';
import { type BenchRecipe, EveningBench } from '../evening/evening-bench.js';
import { Conversation, wholeOf } from './conversation.js';

/** The bytes of a document are its content's alone: what was said to the board before leaves nothing behind in them. */

const SECTOR_BYTES = 4096;
const SHELF_AT = 0x12_0000;

/** Of each document of the shelf, by kind and name, its length and the checksum of its body. */
function documents({ board: { flash } }: EveningBench): Map<string, { bytes: number; sum: number }> {
  const newest = new Map<string, { bytes: number; sum: number; sequence: number }>();
  for (let at = SHELF_AT; at < SHELF_AT + 96 * SECTOR_BYTES; at += SECTOR_BYTES) {
    const header = Buffer.from(flash.read(at + 16, 48));
    const [kind, nameBytes] = [header[14]!, header[15]!];
    if (kind === 0 || kind === 0xff) continue;
    const key = `${kind} ${header.toString('latin1', 16, 16 + nameBytes)}`;
    const sequence = header.readUInt32LE(0);
    if (sequence < (newest.get(key)?.sequence ?? 0)) continue;
    newest.set(key, { bytes: header.readUInt16LE(12), sum: header.readUInt32LE(8), sequence });
  }
  return new Map([...newest].map(([key, { bytes, sum }]) => [key, { bytes, sum }]));
}

const sums = (bench: EveningBench) =>
  bench
    .ask({ type: 'recipe-list', id: 0 })
    .flatMap((line) => (line.type === 'recipe-line' ? [[line.name, line.bodyCrc]] : []));

function greeted(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  return bench;
}

/** As long as each text may be. */
const long = {
  name: 'skelder-mere-at-dusk',
  baseMs: 9000,
  texts: { title: 'T'.repeat(24), negative: 'N'.repeat(24), paper: 'P'.repeat(24) },
  passes: [
    {
      kind: 'base',
      label: 'the whole sheet!',
      filter: '12345678',
      stops120: 0,
      dodges: [{ label: 'jetty and boats', stops120: -40 }],
    },
  ],
} as const satisfies BenchRecipe;
const short = { ...boathouse, texts: { title: 'B', negative: '', paper: '' } };

function say(bench: EveningBench, message: Message): void {
  expect(bench.ask(message)).toMatchObject([{ type: 'ok' }]);
}

/** Whatever has texts and is kept. */
function sayAll(bench: EveningBench, recipe: BenchRecipe, word: string): void {
  bench.send(recipe);
  say(bench, { type: 'name-set', id: 0, name: word });
  const seconds = { resinCoatedSeconds: 60, fibreSeconds: 90 };
  say(bench, {
    ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: word, ...seconds },
    ...{ drainSeconds: 5, agitationSeconds: 15, limitCm2: 0 },
  });
  for (const point of [1, 2])
    say(bench, {
      ...{ type: 'point-set', id: 0, point, points: 2, label: word, trayC10: 190 + point },
      ...seconds,
    });
  say(bench, {
    ...{ type: 'strip-set', id: 0, firstMs: 3000, stepStops120: 40, stepMs: 0, patches: 7 },
    ...{ cover: 'separate', filter: word.slice(0, 6) },
  });
}

it('a recipe that is sent again after a longer one has the checksum that it had', () => {
  const bench = greeted();
  bench.send(short);
  const before = sums(bench);
  bench.send(long);
  bench.send(short);
  expect(sums(bench)).toEqual([...before, expect.anything()]);
});

it('and after a longer one was read out', () => {
  const fresh = greeted();
  fresh.send(short);
  const bench = greeted();
  bench.send(long);
  bench.ask({ type: 'recipe-get', id: 0, name: long.name });
  say(bench, { type: 'recipe-remove', id: 0, name: long.name });
  bench.send(short);
  expect(sums(bench)).toEqual(sums(fresh));
});

it('all that is kept is byte for byte the same, whatever was said before', () => {
  const fresh = greeted();
  sayAll(fresh, short, 'w');
  const used = greeted();
  sayAll(used, long, 'longest words');
  used.ask({ type: 'recipe-remove', id: 0, name: long.name });
  sayAll(used, short, 'w');
  const [expected, found] = [documents(fresh), documents(used)];
  expect(expected.size).toBe(5);
  expect(Object.fromEntries(found)).toEqual(Object.fromEntries(expected));
});

it('a recipe without texts is the same one whether they were sent empty or left out', () => {
  const bench = greeted();
  bench.send(boathouse);
  const before = sums(bench);
  bench.send({ ...boathouse, texts: { title: '', negative: '', paper: '' } });
  expect(sums(bench)).toEqual(before);
});

it('a recipe that was made on the board is the same one when it comes back from a laptop', () => {
  const bench = greeted();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
  bench.keep();
  const before = sums(bench);
  expect(before).toMatchObject([['negative-1', expect.any(String)]]);
  const recipe = recipeFromParts(bench.ask({ type: 'recipe-get', id: 0, name: 'negative-1' }).slice(0, -1));
  const parts = partsOfRecipe(recipe).map((part, at): Message => ({ ...part, id: 100 + at }));
  const laptop = Conversation.greeted();
  for (const part of [...parts, { type: 'recipe-commit', id: 200, whole: wholeOf(parts) } as const])
    expect(laptop.say(part)).toMatchObject([{ type: 'ok' }]);
  expect(laptop.say({ type: 'recipe-list', id: 201 })[0]).toMatchObject({ bodyCrc: before[0]![1] });
});
