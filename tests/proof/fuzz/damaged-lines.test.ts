import { beforeAll, describe, expect, it } from 'vitest';
import { decodeLine, encodeLine } from '../../../shared-protocol/index.js';
import { compileCore } from '../../setup/compile-core.js';
import { Random } from '../../setup/random.js';
import { coreFramer, type Framer } from './core-framer.js';
import { longestLine } from './random-message.js';

/**
 * What a CRC-32 must catch, and who says so:
 * - every error of 1 to 4 bits in a line up to 285 bytes even though the checksum travels as hexadecimal digits
 *   (Koopman, Carnegie Mellon, table of Hamming distances of 0x82608EDB: distance 5 up to 2974 data bits; that the
 *   digits cost no more than that up to 285 bytes: exhaustive search, no source);
 * - every single burst of at most 32 bits (theory of cyclic codes; any textbook on them).
 * Lines here are at most 240 bytes.
 */
const DRAWN_PAIRS = 20_000;
const DRAWN_MULTIPLES = 20_000;
const LONGEST_BURST_BITS = 32;

let framer: Framer;
beforeAll(() => {
  framer = coreFramer(compileCore('tests/proof/fuzz/framer.as.ts'));
});

/** Good lines that the host finds in the same bytes. */
function hostLinesTaken(line: string, damage: Uint8Array): number {
  const bytes = Buffer.from(line, 'latin1').map((byte, at) => byte ^ damage[at]!);
  const pieces = Buffer.from(bytes).toString('latin1').split('\n');
  return pieces.filter((piece) => decodeLine(piece).ok).length;
}

function turned(line: string, bits: Iterable<number>): Uint8Array {
  const damage = new Uint8Array(line.length);
  for (const bit of bits) damage[bit >> 3]! ^= 1 << (bit & 7);
  return damage;
}

function expectRefused(line: string, damage: Uint8Array, what: string): void {
  // A newline turned into a carriage return leaves the line whole: the next newline ends it.
  if (damage.subarray(0, -1).every((byte) => byte === 0)) return;
  if (framer.linesTaken(line, damage) !== 0) expect.fail(`the core took ${line} with ${what}`);
  if (hostLinesTaken(line, damage) !== 0) expect.fail(`the host took ${line} with ${what}`);
}

const short = encodeLine({ type: 'collect', id: 3, fromSeq: 17, count: 64 });
const long = longestLine();

describe('neither side takes a line with damage in it', () => {
  it('takes the undamaged one, or these tests would show nothing', () => {
    for (const line of [short, long]) {
      expect(framer.linesTaken(line, new Uint8Array(line.length))).toBe(1);
      expect(hostLinesTaken(line, new Uint8Array(line.length))).toBe(1);
    }
  });

  it('any one bit turned over, newline included', () => {
    for (const line of [short, long])
      for (let bit = 0; bit < line.length * 8; bit++) expectRefused(line, turned(line, [bit]), `bit ${bit}`);
  });

  it('any two bits turned over, in the core every pair of a short line', () => {
    expect(framer.pairsTaken(short)).toBe(0);
  });

  it.each([2, 3, 4])('%i bits turned over anywhere in the longest line', (count) => {
    const random = new Random(count);
    const rounds = count === 2 ? DRAWN_PAIRS : DRAWN_MULTIPLES;
    for (let round = 0; round < rounds; round++) {
      const bits = new Set(Array.from({ length: count }, () => random.below(long.length * 8)));
      expectRefused(long, turned(long, bits), `bits ${[...bits]}`);
    }
  });

  it(`a burst of up to ${LONGEST_BURST_BITS} bits at any place of the longest line`, () => {
    const random = new Random(32);
    for (let first = 0; first < long.length * 8; first++) {
      for (let round = 0; round < 4; round++) {
        const length = random.between(2, Math.min(LONGEST_BURST_BITS, long.length * 8 - first));
        const inside = Array.from({ length }, (_, place) => first + place).filter(() => random.chance(0.5));
        expectRefused(long, turned(long, new Set([first, ...inside])), `a burst at bit ${first}`);
      }
    }
  });

  it('a byte lost or doubled at any place', () => {
    for (let at = 0; at < long.length - 1; at++) {
      const lost = long.slice(0, at) + long.slice(at + 1);
      const doubled = long.slice(0, at + 1) + long.slice(at);
      for (const line of [lost, doubled]) {
        if (line === long) continue;
        if (decodeLine(line.slice(0, -1)).ok) expect.fail(`the host took ${line}`);
        if (line.length <= long.length && framer.linesTaken(line, new Uint8Array(line.length)) !== 0)
          expect.fail(`the core took ${line}`);
      }
    }
  });
});
