import { lineChecksum } from '../../../shared-protocol/index.js';
import type { Random } from '../../setup/random.js';

const TAIL_LENGTH = ',"01234567"]'.length;
const NUMBERS = [
  '0',
  '-0',
  '00',
  '1e3',
  '1.0',
  '-1',
  '+1',
  '65536',
  '4294967296',
  '9007199254740993',
  ' 1',
  '0x1',
];
const TEXTS = [
  '""',
  '"\\ud800"',
  '"\\u0000"',
  '"\\n"',
  '"\\/"',
  '"\\u001b[2J"',
  '"\x7f"',
  '"\xff"',
  '"\\',
  '"a',
];
const OTHERS = [
  'null',
  '[]',
  '{}',
  '[[[[[[[[',
  '{"a":1}',
  'true',
  'false',
  'NaN',
  '',
  '"__proto__"',
  '"\\u00e9"',
];

/** A line (without its newline) after one to four accidents or malicious edits; half of them sealed anew. */
export function damagedLine(random: Random, line: string, other: string): string {
  let damaged = line;
  for (let edits = random.between(1, 4); edits > 0; edits--) damaged = edit(random, damaged, other);
  return random.chance(0.5) ? sealed(damaged.slice(0, -TAIL_LENGTH)) : damaged;
}

/** Whatever stands in `body`, with the checksum that belongs to it. */
export function sealed(body: string): string {
  return `${body},"${lineChecksum(body)}"]`;
}

function edit(random: Random, line: string, other: string): string {
  const at = random.below(line.length + 1);
  const length = random.between(1, 12);
  switch (random.below(8)) {
    case 0:
      return flipBit(line, random.below(line.length * 8));
    case 1:
      return line.slice(0, at) + line.slice(at + length);
    case 2:
      return line.slice(0, at + length) + line.slice(at);
    case 3:
      return line.slice(0, at) + String.fromCharCode(random.below(256)) + line.slice(at);
    case 4:
      return line.slice(0, at) + other.slice(random.below(other.length));
    case 5:
      return replaceElement(random, line, random.pick([...NUMBERS, ...TEXTS, ...OTHERS]));
    case 6:
      return (
        line.slice(0, at) + random.pick(['\\', '"', ',', '[', ']', '\r', '\0', ' ', '\\u', 'é'.repeat(40)])
      );
    default:
      return line.slice(0, at) + line.slice(at).repeat(2);
  }
}

function flipBit(line: string, bit: number): string {
  const bytes = Buffer.from(line, 'latin1');
  if (bytes.length > bit >> 3) bytes[bit >> 3]! ^= 1 << (bit & 7);
  return bytes.toString('latin1');
}

function replaceElement(random: Random, line: string, element: string): string {
  const elements = line.split(',');
  elements[random.below(elements.length)] = element;
  return elements.join(',');
}
