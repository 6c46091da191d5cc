import { crc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import {
  type ImageMark,
  imageMarkAt,
  imageMarkBytes,
  markImage,
  readImageMark,
} from '../../shared-protocol/image-mark.js';
import { Random } from '../setup/random.js';

/** As long as each text may be. */
const full: ImageMark = {
  chip: 'rp2040xx',
  version: '12.345.678-next9',
  protocol: 0x1234,
  schemaHash: '0badf00d',
};

function anImage(bytes: number, mark = full): Uint8Array {
  const random = new Random(1);
  const image = Uint8Array.from({ length: bytes }, () => random.below(256));
  markImage(image, mark);
  return image;
}

describe('what an image says of itself', () => {
  it.each([
    full,
    { chip: '', version: '', protocol: 0, schemaHash: '' },
    { chip: 'a', version: '1', protocol: 1, schemaHash: '00000000' },
  ])('is read as it was written (%#)', (mark) => {
    expect(readImageMark(anImage(2000, mark))).toEqual(mark);
  });

  it('has the CRC-32 of zlib over the image without it, and its length, little-endian', () => {
    const image = anImage(2000);
    const view = new DataView(image.buffer, imageMarkAt, imageMarkBytes);
    const told = view.getUint32(20, true);
    view.setUint32(20, 0, true);
    expect(told).toBe(crc32(image));
    expect(view.getUint32(16, true)).toBe(2000);
  });

  // Images lie about for years: a laptop of any later version has to find it there.
  it('stands where it has stood since the first image', () => {
    const image = new Uint8Array(0x180).fill(0xff);
    markImage(image, full);
    const { length } = image;
    const said = Buffer.from(image.subarray(0x140, 0x140 + 64));
    said.fill(0, 20, 24);
    const text = 'treadle image 1\n\x80\x01\0\0\0\0\0\0rp2040xx12.345.678-next90badf00d\x34\x12\0\0\0\0\0\0';
    expect([length, said.toString('latin1')]).toEqual([0x180, text]);
    expect(image.subarray(0, 0x140).every((byte) => byte === 0xff)).toBe(true);
  });

  it('is believed of an image that ends with it, and of none that ends before', () => {
    const image = anImage(imageMarkAt + imageMarkBytes);
    expect(readImageMark(image)).toEqual(full);
    expect(readImageMark(image.subarray(0, -1))).toBeUndefined();
  });

  it('is damaged where a bit has changed, or the end lacks; what follows does not count', () => {
    const image = anImage(450);
    const magic = [...'treadle image 1\n'].map((_, at) => imageMarkAt + at);
    for (let bit = 0; bit < image.length * 8; bit++) {
      const other = image.slice();
      other[bit >> 3]! ^= 1 << (bit & 7);
      expect([bit, readImageMark(other)]).toEqual([bit, magic.includes(bit >> 3) ? undefined : 'damaged']);
    }
    expect(readImageMark(image.subarray(0, -1))).toBe('damaged');
    expect(readImageMark(new Uint8Array([...image, 7]))).toEqual(full);
    image[imageMarkAt]! ^= 1;
    expect(readImageMark(image)).toBeUndefined();
  });

  it('is not written where a text is too long', () => {
    for (const longer of [
      { chip: `${full.chip}x` },
      { version: `${full.version}x` },
      { schemaHash: '0badf00d0' },
    ])
      expect(() => anImage(1000, { ...full, ...longer })).toThrow(RangeError);
  });
});
