import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chip } from '../../../../host/board/flash/chip.js';
import { readFirmwareImage } from '../../../../host/board/flash/firmware-image.js';
import { ImageError } from '../../../../host/board/flash/flash-errors.js';
import { protocolVersion, schemaHash, version } from '../../../../shared-protocol/index.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { anImage, anImageFile, family, flashAt } from './an-image.js';

const BLOCK = 512;
const USED_OF_A_BLOCK = 32 + 256;

function changed(file: Buffer, change: (file: Buffer) => void): Buffer {
  const copy = Buffer.from(file);
  change(copy);
  return copy;
}

describe('an image that is to be written to a board', () => {
  it('says its version, its schema and its chip without being run', () => {
    const file = anImageFile();
    expect(readFirmwareImage(file)).toEqual({
      ...{ chip: 'rp2040', version, schemaHash, protocol: protocolVersion },
      file,
    });
  });

  it('is refused with words for what is wrong with it', () => {
    const file = anImageFile();
    const refusal = (bytes: Uint8Array) => {
      try {
        readFirmwareImage(bytes);
      } catch (error) {
        expect(error).toBeInstanceOf(ImageError);
        return (error as Error).message;
      }
      return 'taken';
    };
    expect(refusal(Buffer.alloc(0))).toBe('it is empty');
    expect(refusal(Buffer.from('<html>not found</html>'.repeat(60)))).toContain('it is no UF2 file');
    expect(refusal(file.subarray(0, -BLOCK))).toContain('it was cut short');
    expect(refusal(file.subarray(0, -1))).toContain('it was cut short');
    expect(refusal(Buffer.concat([file, Buffer.alloc(BLOCK)]))).toContain('behind its end');
    expect(refusal(anImageFile(anImage(), flashAt, 0xada5_2840))).toContain('is for another chip');
    expect(refusal(anImageFile(anImage(), flashAt + 4096))).toContain('a gap, or no image of ours');
    expect(refusal(anImageFile(anImage(), flashAt + 256))).toContain('a gap, or no image of ours');
    expect(refusal(anImageFile(anImage(0x8_0000 + 1)))).toContain('where the log and the recipes lie');
    expect(refusal(anImageFile(Buffer.alloc(3000)))).toContain("no image of treadle's");
    expect(refusal(anImageFile(anImage(3000, { chip: 'nrf51' })))).toContain('another chip: nrf51');
    expect(refusal(changed(file, (copy) => copy.writeUInt32LE(5, 3 * BLOCK + 20)))).toContain(
      'block 4 of 12 says that it is 6 of 12: blocks are missing or out of order',
    );
    expect(refusal(changed(file, (copy) => copy.writeUInt32LE(476, 16)))).toContain('carries 476 bytes');
    expect(refusal(changed(file, (copy) => copy.writeUInt8(1, 7 * BLOCK + 100)))).toContain('its checksum');
  });

  it('is refused whichever bit of it is damaged', () => {
    const file = anImageFile();
    // What fills a block behind its payload is nobody's: the boot program does not look at it.
    const place = fc
      .tuple(fc.nat(file.length / BLOCK - 1), fc.nat(USED_OF_A_BLOCK - 1), fc.nat(7))
      // The last block's payload is filled up with zeros that are no part of the image.
      .filter(([block, at]) => block * 256 + at - 32 < 3000);
    fc.assert(
      fc.property(place, ([block, at, bit]) => {
        const damaged = changed(file, (copy) => {
          copy[block * BLOCK + at]! ^= 1 << bit;
        });
        expect(() => readFirmwareImage(damaged)).toThrow(ImageError);
      }),
      { seed: 1 },
    );
  });

  it('keeps to what the board layer says of its chip', async () => {
    const board = join(projectRoot, 'firmware/board');
    const { default: facts } = await import(join(board, 'rp2040/chip.mjs'));
    expect(chip).toMatchObject({ uf2Family: facts.uf2Family, flashAt: facts.flashBase });
    expect(chip.uf2Family).toBe(family);
    const storage = readFileSync(join(board, 'rp2040/port/storage.h'), 'utf8');
    expect(Number(/STORAGE_AT (0x\w+)/.exec(storage)![1])).toBe(chip.storageAt);
  });
});
