import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DeskServer, openDeskServer, scanRoom } from '../../../host/desk/index.js';

let server: DeskServer;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-scans-'));
  process.env.TMPDIR = folder;
  server = await openDeskServer([scanRoom()]);
});
afterAll(async () => {
  await server.close();
  delete process.env.TMPDIR;
  rmSync(folder, { recursive: true });
});

function bring(body: Uint8Array | string, name = 'mine.tif'): Promise<Response> {
  const { origin, hash } = new URL(server.url);
  const headers = { 'treadle-token': hash.slice(1), origin };
  return fetch(`${origin}/api/scan?name=${encodeURIComponent(name)}`, {
    method: 'POST',
    headers,
    body: Buffer.from(body) as never,
  });
}

async function refusalOf(body: Uint8Array | string): Promise<string> {
  const answer = await bring(body);
  expect(answer.status).toBe(422);
  return ((await answer.json()) as { message: string }).message;
}

const samples = Uint16Array.from({ length: 24 }, (_, at) => at * 2000);

/** PNG, 5.3: length, name, data, and the CRC of name and data. */
function chunk(name: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}

describe('a scan that is brought to the desk', () => {
  it.each(['tiff', 'png'] as const)('of 16 bits as %s comes back code for code', async (kind) => {
    const raw = { width: 6, height: 4, channels: 1, depth: 'ushort' } as never;
    const file = await sharp(samples, { raw })
      .toColourspace('grey16')
      .toFormat(kind, { compression: 'none' } as never)
      .toBuffer();
    const answer = await bring(file);
    const numbers = new Uint16Array(await answer.arrayBuffer());
    expect([...numbers]).toEqual([6, 4, ...samples]);
  });

  it('that is larger than any screen comes smaller', async () => {
    const large = sharp({ create: { width: 7200, height: 20, channels: 3, background: '#888' } });
    const picture = await large.extend({ bottom: 20, background: '#444' }).jpeg().toBuffer();
    const numbers = new Uint16Array(await (await bring(picture)).arrayBuffer());
    expect([...numbers.subarray(0, 2)]).toEqual([3600, 20]);
  });

  it('and is no picture is refused by its own name', async () => {
    expect(await refusalOf('Dear Sir')).toBe(
      'mine.tif is no picture that can be a scan: give a TIFF, PNG or JPEG file',
    );
    expect(await refusalOf('')).toContain('no picture');
    expect(await refusalOf(Buffer.from('89504e470d0a1a0a00', 'hex'))).toMatch(
      /^cannot read mine.tif as a picture .* at most 120 megapixels$/,
    );
  });

  // A drawing may ask for files of this computer, and the library would read it.
  it('and is a drawing is refused, whatever it calls itself', async () => {
    expect(await refusalOf('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')).toContain(
      'no picture',
    );
  });

  // What the file says of itself is enough (PNG, ISO/IEC 15948, 11.2.2): 30,000 by 30,000 pixels in a hundred bytes.
  it('and would grow beyond all bounds is refused before it is read', async () => {
    const head = Buffer.alloc(13);
    head.writeUInt32BE(30_000, 0);
    head.writeUInt32BE(30_000, 4);
    head[8] = 16;
    const bomb = Buffer.concat([
      Buffer.from('89504e470d0a1a0a', 'hex'),
      chunk('IHDR', head),
      chunk('IDAT', deflateSync(Buffer.alloc(60_001))),
      chunk('IEND', Buffer.alloc(0)),
    ]);
    expect(await refusalOf(bomb)).toMatch(/pixel limit.*at most 120 megapixels/);
  });

  // A folder that could not be made ended the whole desk, and a full disk was called too large a scan.
  it('and cannot be written to the disk is refused in words, and the desk goes on', async () => {
    process.env.TMPDIR = join(folder, 'not-there');
    expect(await refusalOf('II*').finally(() => (process.env.TMPDIR = folder))).toBe(
      `cannot write what was brought to ${join(folder, 'not-there')}: there is no such file or folder`,
    );
    expect(await refusalOf('Dear Sir')).toContain('is no picture');
  });

  // What had come so far stayed on the disk.
  it('by a page that goes away meanwhile stays nowhere', async () => {
    const { origin, host, hash } = new URL(server.url);
    const socket = connect(Number(host.split(':')[1]), '127.0.0.1');
    socket.on('error', () => {});
    const head = ['POST /api/scan?name=mine.tif HTTP/1.1', `Host: ${host}`, `Origin: ${origin}`];
    socket.write(
      [...head, `treadle-token: ${hash.slice(1)}`, 'Content-Length: 900000', '', 'II*'].join('\r\n'),
    );
    await expect.poll(() => readdirSync(folder)).not.toEqual([]);
    socket.destroy();
    await expect.poll(() => readdirSync(folder)).toEqual([]);
  });

  it('leaves nothing behind', () => {
    expect(readdirSync(folder)).toEqual([]);
  });
});
