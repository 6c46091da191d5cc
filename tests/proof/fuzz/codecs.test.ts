import { crc32 } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { fieldCheck } from '../../../shared-protocol/field-check.js';
import { decodeLine, encodeLine, limits, messages, messageTypes } from '../../../shared-protocol/index.js';
import { wireFacts } from '../../../shared-protocol/wire-types.js';
import { Random } from '../../setup/random.js';
import { type CodecEcho, codecEcho } from '../../shared-protocol/codec-echo.js';
import { damagedLine, sealed } from './damage-line.js';
import { randomField, randomMessage } from './random-message.js';

const LINES = 10_000;

let core: CodecEcho;
beforeAll(() => {
  core = codecEcho();
});

/** A line of some message, damaged, so that it is almost one. */
function almostLine(seed: number): string {
  const random = new Random(seed);
  const line = encodeLine(randomMessage(random)).slice(0, -1);
  return damagedLine(random, line, encodeLine(randomMessage(random)).slice(0, -1));
}

/** By the standard's own reference (zlib), not by our codec: does the line carry the checksum of its bytes? */
function checksumFits(line: string): boolean {
  const comma = line.lastIndexOf(',');
  const sum = crc32(Buffer.from(line.slice(0, Math.max(comma, 0)), 'latin1'));
  return line.slice(comma) === `,"${sum.toString(16).padStart(8, '0')}"]`;
}

describe(`${LINES} lines that are almost lines`, () => {
  it('are read or refused by the host, which never throws and never takes a wrong checksum', () => {
    let taken = 0;
    for (let seed = 1; seed <= LINES; seed++) {
      const line = almostLine(seed);
      const decoded = decodeLine(line);
      if (!decoded.ok) continue;
      taken++;
      if (!checksumFits(line)) expect.fail(`seed ${seed}: taken with a wrong checksum: ${line}`);
      const again = decodeLine(encodeLine(decoded.message).slice(0, -1));
      const same = again.ok && encodeLine(again.message) === encodeLine(decoded.message);
      if (!same) expect.fail(`seed ${seed}: read as something that cannot be said again: ${line}`);
    }
    expect(taken, 'lines that stayed lines').toBeGreaterThan(LINES / 1000);
  });

  it('mean the same to both sides: what the core takes the host takes, and any line of the host the core', () => {
    let taken = 0;
    for (let seed = 1; seed <= LINES; seed++) {
      const line = sealed(almostLine(seed).slice(0, -',"01234567"]'.length));
      if (line.length >= limits.lineBytes || !line.startsWith('[') || line.includes('\n')) continue;
      const answer = core.echo(`${line}\n`);
      const decoded = decodeLine(line);
      if (typeof answer === 'string') {
        taken++;
        expect(decoded.ok && encodeLine(decoded.message), `seed ${seed}: ${line}`).toBe(answer);
      } else {
        const own = decoded.ok && encodeLine(decoded.message) === `${line}\n`;
        if (own) expect.fail(`seed ${seed}: refused by the core, though the host would say it: ${line}`);
      }
    }
    expect(taken, 'lines that stayed lines').toBeGreaterThan(LINES / 1000);
  });
});

describe('the quick check of a received field', () => {
  it('is the schema itself: both say the same of every value', () => {
    const random = new Random(1);
    for (const type of messageTypes) {
      for (const [name, schema] of Object.entries(messages[type].fields)) {
        const check = fieldCheck(wireFacts.get(schema)!);
        for (const value of [
          ...strangeValues,
          ...Array.from({ length: 20 }, () => randomField(random, wireFacts.get(schema)!)),
        ])
          expect(check(value), `${type}.${name}: ${String(value)}`).toBe(schema.safeParse(value).success);
      }
    }
  });
});

const strangeValues: unknown[] = [
  ...[0, 1, -1, 1.5, 255, 256, 65_535, 65_536, 2 ** 31, -(2 ** 31), 2 ** 32, 2 ** 53, Number.NaN, Infinity],
  ...['', 'a', 'A', '-', 'a-', 'a--b', 'low-tide', 'base', '0123abcd', '0123ABCD', '0123456789abcdef'],
  ...[
    'é',
    'x'.repeat(16),
    'x'.repeat(17),
    'x'.repeat(65),
    'é'.repeat(16),
    '"',
    '\\',
    '\n',
    '\u007f',
    '\ud800',
    ' ',
  ],
  ...[null, undefined, true, false, {}, [], ['a'], new String('a'), 1n],
];

describe('messages drawn at the bounds of their fields', () => {
  it('pass from host to core and back, byte for byte, each type a hundred times', () => {
    for (const type of messageTypes) {
      const random = new Random(type.length);
      for (let count = 0; count < 100; count++) {
        const line = encodeLine(randomMessage(random, [type]));
        expect(core.echo(line)).toBe(line);
      }
    }
  });
});
