import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { Random } from '../../../setup/random.js';
import { code, documentKind, StoreRig } from './store-rig.js';

const sectorBytes = 4096;
const shelfOffset = 288 * sectorBytes;
const perSector = 16;

function filled(entries: number): Flash {
  const flash = new Flash();
  const rig = new StoreRig(flash);
  for (let entry = 1; entry <= entries; entry++) {
    expect(rig.finish(rig.append(1, new Random(entry).bytes(200)))).toBe(code.done);
  }
  return flash;
}

describe('bits that rot at rest', () => {
  it('cost one entry where they hit it, and no other', () => {
    const flash = filled(100);
    // The third entry of the log's second sector.
    flash.flipBits(2 * sectorBytes + 2 * 256 + 40, 0x10);
    const rig = new StoreRig(flash);
    const lost = perSector + 3;
    expect(rig.entries().map(({ seq }) => seq)).toEqual(
      Array.from({ length: 100 }, (_, index) => index + 1).filter((seq) => seq !== lost),
    );
    expect(rig.entry(lost)?.seq).toBe(lost + 1);
  });

  // The place of the end in its page, in bytes, is 32 and so many times what an entry takes.
  it.each([1, 40, 80])(
    'cost the first entry alone where they hit it, behind it those of %i bytes',
    (bytes) => {
      const rig = new StoreRig(new Flash());
      for (let entry = 1; entry <= 20; entry++) {
        expect(rig.finish(rig.append(1, new Random(entry).bytes(bytes)))).toBe(code.done);
        if (entry === 1) rig.flash.flipBits(sectorBytes + 40, 0x10);
        expect(rig.entries().map(({ seq }) => seq)).toEqual(
          Array.from({ length: entry - 1 }, (_, index) => index + 2),
        );
      }
    },
  );

  it.each([1, 3, 6, 7])('cost nothing where they hit the mark of sector %i', (sector) => {
    const flash = filled(100);
    flash.flipBits(sector * sectorBytes + 5, 0x01);
    const rig = new StoreRig(flash);
    expect(rig.entries()).toHaveLength(100);
    expect(rig.finish(rig.append(1, Uint8Array.of(1)))).toBe(code.done);
    expect(rig.entries().map(({ seq }) => seq)).toEqual(Array.from({ length: 101 }, (_, index) => index + 1));
  });

  it('that leave nothing of the oldest sector cost no entry of another', () => {
    const flash = filled(100);
    for (let page = 0; page < perSector; page++) flash.flipBits(sectorBytes + page * 256 + 40, 0x10);
    const rig = new StoreRig(flash);
    expect(rig.entries().map(({ seq }) => seq)).toEqual(
      Array.from({ length: 100 - perSector }, (_, index) => perSector + index + 1),
    );
  });

  it('never let a number be given twice that the laptop has let go of', () => {
    const flash = filled(20);
    const before = new StoreRig(flash);
    expect(before.finish(before.forget(20))).toBe(code.done);
    for (let offset = 0; offset < 2 * sectorBytes + 2048; offset += 256) flash.flipBits(offset + 200, 0xff);
    const rig = new StoreRig(flash);
    expect(rig.core.nextSeq()).toBe(21);
  });

  it('may bring forgotten entries back, but lose none, where they hit the tally', () => {
    const flash = filled(30);
    const before = new StoreRig(flash);
    expect(before.finish(before.forget(10))).toBe(code.done);
    expect(before.finish(before.forget(20))).toBe(code.done);
    const image = flash.image();
    const newest = image.subarray(0, shelfOffset).findLastIndex((byte) => byte !== 0xff);
    flash.flipBits(newest, 0x80);
    const rig = new StoreRig(flash);
    expect(rig.entries()[0]?.seq).toBe(11);
    expect(rig.entries().at(-1)?.seq).toBe(30);
  });

  it('do not set the boot number back, where they hit the tally', () => {
    const flash = filled(1);
    for (let boot = 0; boot < 5; boot++) {
      const rig = new StoreRig(flash);
      expect(rig.finish(rig.append(1, Uint8Array.of(boot)))).toBe(code.done);
    }
    for (let offset = 284 * sectorBytes; offset < shelfOffset; offset += 32) flash.flipBits(offset + 4, 0x01);
    expect(new StoreRig(flash).core.bootNumber()).toBe(7);
  });

  it('do not set the boot number back, where they hit the tally and all of the newest sector of the log', () => {
    const flash = filled(1);
    for (let boot = 2; boot <= 5; boot++) {
      const rig = new StoreRig(flash);
      expect(rig.finish(rig.append(1, Uint8Array.of(boot)))).toBe(code.done);
    }
    const last = new StoreRig(flash);
    for (let entry = 0; entry < perSector; entry++)
      expect(last.finish(last.append(1, new Uint8Array(200)))).toBe(code.done);
    for (let at = 2 * sectorBytes + 32; at < 3 * sectorBytes; at += 32) flash.flipBits(at + 4, 0x01);
    for (let offset = 284 * sectorBytes; offset < shelfOffset; offset += 32) flash.flipBits(offset + 4, 0x01);
    const rig = new StoreRig(flash);
    expect(rig.entries().at(-1)).toMatchObject({ boot: 6 });
    expect(rig.core.bootNumber()).toBe(7);
  });

  it.each([14, 15])(
    'cost no room of the log where they hit byte %i of a mark, which means nothing',
    (byte) => {
      const flash = filled(3);
      const before = new StoreRig(flash);
      before.core.idle();
      before.settle();
      const room = new StoreRig(flash).core.room();
      flash.flipBits(2 * sectorBytes + byte, 0x01);
      const rig = new StoreRig(flash);
      expect(rig.core.room()).toBe(room);
      expect(rig.finish(rig.append(1, Uint8Array.of(1)))).toBe(code.done);
      expect(rig.entries()).toHaveLength(4);
    },
  );

  it('are told from a good body, and hide only the document whose header they hit', () => {
    const flash = new Flash();
    const rig = new StoreRig(flash);
    for (const name of ['jetty', 'reeds', 'boathouse']) {
      expect(rig.finish(rig.put(documentKind.recipe, name, new Random(1).bytes(900)))).toBe(code.done);
    }
    flash.flipBits(shelfOffset + 1 * sectorBytes + 500, 0x04);
    flash.flipBits(shelfOffset + 2 * sectorBytes + 20, 0x04);
    const again = new StoreRig(flash);
    expect(again.names(documentKind.recipe)).toEqual(['boathouse', 'jetty']);
    expect(again.core.isIntact(again.find(documentKind.recipe, 'jetty'))).toBe(0);
    expect(again.core.isIntact(again.find(documentKind.recipe, 'boathouse'))).toBe(1);
  });

  it('leave the next version newer than the one whose mark they hit', () => {
    const rig = new StoreRig(new Flash());
    const put = (board: StoreRig, version: number) =>
      board.finish(board.put(documentKind.recipe, 'jetty', Uint8Array.of(version)));
    for (const version of [1, 2]) expect(put(rig, version)).toBe(code.done);
    rig.flash.flipBits(shelfOffset + rig.find(documentKind.recipe, 'jetty') * sectorBytes + 5, 0x01);
    const again = new StoreRig(rig.flash);
    expect(again.document(documentKind.recipe, 'jetty')).toEqual(Uint8Array.of(2));
    expect(put(again, 3)).toBe(code.done);
    expect(again.document(documentKind.recipe, 'jetty')).toEqual(Uint8Array.of(3));
    expect(new StoreRig(rig.flash).document(documentKind.recipe, 'jetty')).toEqual(Uint8Array.of(3));
  });

  it('anywhere in any number leave a board that boots, reads and writes', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = new Random(seed);
      const flash = filled(40);
      const used = [0, 284, 285, 1, 2, 3].map((sector) => sector * sectorBytes);
      for (let flips = 0; flips < 400; flips++) {
        flash.flipBits(random.pick(used) + random.below(sectorBytes), 1 << random.below(8));
      }
      const rig = new StoreRig(flash);
      for (const entry of rig.entries()) expect(entry.begun).toEqual(new Random(entry.seq).bytes(200));
      expect(rig.finish(rig.append(1, Uint8Array.of(1))), `seed ${seed}`).toBe(code.done);
      expect(rig.finish(rig.put(documentKind.recipe, 'jetty', Uint8Array.of(2)))).toBe(code.done);
    }
  });
});
