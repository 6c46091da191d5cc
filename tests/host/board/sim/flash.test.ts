import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { PowerCut } from '../../../../host/board/sim/flash-memory.js';

describe('the flash model', () => {
  it('starts erased, programs by clearing bits only, and says when that is not what was asked', () => {
    const flash = new Flash();
    expect(flash.read(0x1000, 2)).toEqual(Uint8Array.of(0xff, 0xff));
    expect(flash.program(0x1000, Uint8Array.of(0xf0))).toBe(true);
    expect(flash.program(0x1000, Uint8Array.of(0x3c))).toBe(false);
    expect(flash.read(0x1000, 1)).toEqual(Uint8Array.of(0x30));
  });

  it('erases one sector and counts it', () => {
    const flash = new Flash();
    flash.program(0x0fff, Uint8Array.of(0));
    flash.program(0x1000, Uint8Array.of(0));
    expect(flash.erase(0x1000)).toBe(true);
    expect(flash.read(0x0fff, 2)).toEqual(Uint8Array.of(0, 0xff));
    expect([...flash.erases.subarray(0, 3)]).toEqual([0, 1, 0]);
  });

  it('refuses what a chip could not do', () => {
    const flash = new Flash();
    expect(() => flash.program(0xff, Uint8Array.of(0, 0))).toThrow(RangeError);
    expect(() => flash.erase(0x800)).toThrow(RangeError);
    expect(() => flash.read(flash.size, 1)).toThrow(RangeError);
  });

  it('cuts the power inside the operation it was told to, doing just the bits that were let through', () => {
    const flash = new Flash();
    let bit = 0;
    flash.cutPowerAfter(1, () => bit++ % 2 === 0);
    flash.program(0, Uint8Array.of(0));
    expect(() => flash.program(1, Uint8Array.of(0x0f))).toThrow(PowerCut);
    expect(() => flash.erase(0)).toThrow(PowerCut);
    flash.restorePower();
    expect(flash.read(0, 2)).toEqual(Uint8Array.of(0, 0b1010_1111));
    expect(flash.erase(0)).toBe(true);
  });

  it('lets a worn-out sector fail and keep what it had', () => {
    const flash = new Flash();
    flash.wearOut(1);
    expect(flash.program(0x1000, Uint8Array.of(0))).toBe(false);
    expect(flash.erase(0x1000)).toBe(false);
    expect(flash.program(0, Uint8Array.of(0))).toBe(true);
  });

  it('keeps its content in a file across a restart, and refuses a file of another size', () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-flash-'));
    try {
      const file = join(folder, 'storage.bin');
      const first = new Flash({ file });
      first.program(0x2000, Uint8Array.of(1, 2, 3));
      first.close();
      const second = new Flash({ file });
      expect(second.read(0x2000, 4)).toEqual(Uint8Array.of(1, 2, 3, 0xff));
      second.close();
      expect(() => new Flash({ file, bytes: 0x1000 })).toThrow(/name another file for --storage/);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
