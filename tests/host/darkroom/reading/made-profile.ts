import { crc32, deflateSync } from 'node:zlib';

/** A scanner's colour profile of version 2 with one tone curve: a gamma, or the numbers of a parametric one. */
export function madeProfile(space: 'GRAY' | 'RGB ', curve: number | readonly number[]): Buffer {
  const tags: [string, Buffer][] = [
    ['desc', Buffer.concat([Buffer.from('desc\0\0\0\0\0\0\0\x05made\0'), Buffer.alloc(78)])],
    ['wtpt', xyz(0.9642, 1, 0.8249)],
  ];
  if (space === 'GRAY') tags.push(['kTRC', toneCurve(curve)]);
  else
    tags.push(
      ['rXYZ', xyz(0.4361, 0.2225, 0.0139)],
      ['gXYZ', xyz(0.3851, 0.7169, 0.0971)],
      ['bXYZ', xyz(0.1431, 0.0606, 0.7141)],
      ...['rTRC', 'gTRC', 'bTRC'].map((name): [string, Buffer] => [name, toneCurve(curve)]),
    );
  const table = Buffer.alloc(4 + 12 * tags.length);
  table.writeUInt32BE(tags.length);
  let at = 128 + table.length;
  const bodies = tags.map(([name, body], tag) => {
    table.write(name, 4 + 12 * tag);
    table.writeUInt32BE(at, 8 + 12 * tag);
    table.writeUInt32BE(body.length, 12 + 12 * tag);
    const padded = Buffer.concat([body, Buffer.alloc((4 - (body.length % 4)) % 4)]);
    at += padded.length;
    return padded;
  });
  return Buffer.concat([header(space, at), table, ...bodies]);
}

function header(space: string, size: number): Buffer {
  const out = Buffer.alloc(128);
  out.writeUInt32BE(size);
  out.writeUInt32BE(0x02200000, 8);
  out.write(`scnr${space}XYZ `, 12);
  out.writeUInt16BE(2027, 24);
  out.write('acsp', 36);
  xyz(0.9642, 1, 0.8249).copy(out, 68, 8);
  return out;
}

function xyz(...values: readonly number[]): Buffer {
  return Buffer.concat([Buffer.from('XYZ \0\0\0\0'), ...values.map(fixed)]);
}

function fixed(value: number): Buffer {
  const out = Buffer.alloc(4);
  out.writeInt32BE(Math.round(value * 65_536));
  return out;
}

function toneCurve(curve: number | readonly number[]): Buffer {
  if (typeof curve === 'number') {
    const out = Buffer.from('curv\0\0\0\0\0\0\0\x01\0\0');
    out.writeUInt16BE(Math.round(curve * 256), 12);
    return out;
  }
  const out = Buffer.from('para\0\0\0\0\0\0\0\0');
  out.writeUInt16BE([1, 3, 4, 5, 7].indexOf(curve.length), 8);
  return Buffer.concat([out, ...curve.map(fixed)]);
}

/** After the header of a PNG file, which is always as long (W3C PNG, 11.2.1 and 11.3.2.3). */
export function withProfile(png: Buffer, profile: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from('iCCPmade\0\0'), deflateSync(profile)]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length - 4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([png.subarray(0, HEADER_END), length, body, check, png.subarray(HEADER_END)]);
}
const HEADER_END = 33;
