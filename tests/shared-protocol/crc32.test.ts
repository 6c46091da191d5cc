import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { crc32Hex } from '../../shared-protocol/crc32.js';
import { seed } from './arbitrary-message.js';

// The CRC catalogue's check value for CRC-32/ISO-HDLC.
it('gives the check value of its kind of checksum', () => {
  expect(crc32Hex('123456789')).toBe('cbf43926');
});

it('is zlib’s checksum of any text of ASCII', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary-ascii', maxLength: 240 }), (text) => {
      expect(Number.parseInt(crc32Hex(text), 16)).toBe(crc32(text));
      expect(crc32Hex(text)).toHaveLength(8);
    }),
    { seed },
  );
});
