import { crc32 } from 'node:zlib';
import { beforeAll, expect, it } from 'vitest';
import { decodeLine, encodeLine, type Message } from '../../shared-protocol/index.js';
import { type CodecEcho, codecEcho } from './codec-echo.js';

// Each side judges the other: what the host reads the core reads, and as the same.

let core: CodecEcho;
beforeAll(() => {
  core = codecEcho();
});

/** Where UTF-8, UTF-16, JSON or the display go over to something else, and the last before. */
const EDGES = [
  ...[0x20, 0x22, 0x2f, 0x5c, 0x7e, 0xa0, 0xff, 0x7ff, 0x800, 0xfff, 0x1000, 0xd7ff, 0xe000, 0xfffd, 0xffff],
  ...[0x1_0000, 0x1_03ff, 0x1_0400, 0x3_ffff, 0x4_0000, 0xf_ffff, 0x10_0000, 0x10_ffff],
];

/** A line with a right checksum around whatever stands in it. */
function sealed(body: string): string {
  return `${body},"${crc32(body).toString(16).padStart(8, '0')}"]\n`;
}

function isFineForOneAlone(body: string): boolean {
  const line = sealed(body);
  return decodeLine(line.slice(0, -1)).ok !== (typeof core.echo(line) === 'string');
}

const escaped = (unit: number) => `\\u${unit.toString(16).padStart(4, '0')}`;

it('characters on either side of every edge come back as they went, alone and among others', () => {
  for (const point of EDGES) {
    const character = String.fromCodePoint(point);
    for (const value of [character, `a${character}z`, `${character}${character}~`]) {
      const message: Message = { type: 'recipe-text', id: 7, which: 'title', value };
      expect(core.echo(encodeLine(message)), point.toString(16)).toBe(encodeLine(message));
    }
  }
});

it('no character is fine for one side alone, as it is or escaped, in a text or in a name', () => {
  const bodies = Array.from({ length: 0x121 }, (_, unit) => {
    const itself = String.fromCharCode(unit);
    const spellings = unit < 0x80 ? [escaped(unit), itself, `\\${itself}`] : [escaped(unit)];
    return spellings.flatMap((spelling) => [
      `["recipe-text",1,"title","a${spelling}z"`,
      `["recipe-remove",1,"a${spelling}z"`,
    ]);
  });
  expect(bodies.flat().filter(isFineForOneAlone)).toEqual([]);
});

it('no two halves of a character are fine for one side alone', () => {
  const halves = [0xd7ff, 0xd800, 0xdbff, 0xdc00, 0xdfff, 0xe000].map(escaped);
  const bodies = halves.flatMap((one) => halves.map((two) => `["recipe-text",1,"title","${one}${two}"`));
  expect(bodies.filter(isFineForOneAlone)).toEqual([]);
});
