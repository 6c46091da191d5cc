import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

const UF2_BLOCK = 512;

describe.runIf(boardTestsRun)('the image of the real core', () => {
  // Building it takes its time, or another test is building it.
  beforeAll(() => void buildImage(), 600_000);

  // The flash has room for 192 KiB before the storage.
  test("takes at most 160 KiB of flash and 104 KiB of RAM, the core's 64 KiB included", () => {
    const { report } = buildImage();
    expect(report.flashBytes).toBeLessThanOrEqual(160 * 1024);
    expect(report.ramBytes).toBeLessThanOrEqual(104 * 1024);
  });

  test('can never need more stack than is kept for it', () => {
    const { report } = buildImage();
    expect(report.stackDeepestBytes).toBeGreaterThan(200);
    expect(report.stackDeepestBytes).toBeLessThanOrEqual(report.stackReservedBytes);
  });

  test('links no heap', () => {
    const names = execFileSync('arm-none-eabi-nm', [join(buildImage().folder, 'treadle.elf')], {
      encoding: 'utf8',
    });
    expect(names).toMatch(/lamp_off_interrupt/);
    expect(names).not.toMatch(/malloc|sbrk|realloc/);
  });

  test("is in the file for the board's drive what it is in the chip", () => {
    const image = buildImage();
    const file = readFileSync(join(image.folder, 'treadle.uf2'));
    const view = new DataView(file.buffer, file.byteOffset);
    const bytes = new Uint8Array((file.length / UF2_BLOCK) * 256);
    for (let block = 0; block < file.length / UF2_BLOCK; block++) {
      const at = block * UF2_BLOCK;
      expect(view.getUint32(at, true)).toBe(0x0a32_4655);
      expect(view.getUint32(at + 12, true)).toBe(0x1000_0000 + block * 256);
      expect(view.getUint32(at + 20, true)).toBe(block);
      expect(view.getUint32(at + 28, true)).toBe(0xe48b_ff56);
      bytes.set(file.subarray(at + 32, at + 32 + 256), block * 256);
    }
    expect(Buffer.compare(bytes.subarray(0, image.bytes.length), image.bytes)).toBe(0);
  });

  test('leaves the storage region alone', () => {
    expect(buildImage().bytes.length).toBeLessThan(0x20_0000 - 0x18_0000);
  });
});
