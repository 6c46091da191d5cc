import { describe, expect, it, vi } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { Random } from '../../../setup/random.js';
import { code, StoreRig } from './store-rig.js';

const planned = Uint8Array.from({ length: 104 }, (_, index) => index);
const result = Uint8Array.of(9, 8, 7);

function freshRig(): StoreRig {
  const rig = new StoreRig(new Flash());
  rig.settle();
  return rig;
}

function expose(rig: StoreRig): void {
  expect(rig.finish(rig.begin(1, planned))).toBe(code.done);
  expect(rig.finish(rig.end(result))).toBe(code.done);
}

describe('the log', () => {
  it('gives back an entry begun and ended, and one complete at once', () => {
    const rig = freshRig();
    expose(rig);
    expect(rig.finish(rig.append(7, Uint8Array.of(1, 2)))).toBe(code.done);
    expect(rig.entries()).toEqual([
      { seq: 1, kind: 1, boot: 1, form: 'ended', begun: planned, ended: result },
      { seq: 2, kind: 7, boot: 1, form: 'whole', begun: Uint8Array.of(1, 2), ended: new Uint8Array() },
    ]);
  });

  it('does not give back an entry, or one after it, before it is ended', () => {
    const rig = freshRig();
    rig.finish(rig.begin(1, planned));
    rig.finish(rig.append(7, planned));
    expect(rig.entries()).toEqual([]);
    expect(rig.core.endSeq()).toBe(1);
    rig.finish(rig.end(result));
    expect(rig.entries().map(({ seq, form }) => [seq, form])).toEqual([
      [1, 'ended'],
      [2, 'whole'],
    ]);
  });

  it('neither gives back nor forgets an entry that is still on its way to the flash', () => {
    const rig = freshRig();
    rig.finish(rig.append(7, planned));
    expect(rig.append(7, planned)).toBe(code.waiting);
    expect(rig.core.endSeq()).toBe(2);
    expect(rig.entry(2)).toBeUndefined();
    expect(rig.finish(rig.forget(2))).toBe(code.done);
    expect(rig.core.forgottenSeq()).toBe(1);
    expect(rig.core.endSeq()).toBe(3);
  });

  it('turns an entry that was not ended into an interrupted one at the next boot', () => {
    const { flash } = (() => {
      const rig = freshRig();
      rig.finish(rig.begin(1, planned));
      return rig;
    })();
    const rig = new StoreRig(flash);
    rig.settle();
    expect(rig.entries()).toEqual([
      { seq: 1, kind: 1, boot: 1, form: 'interrupted', begun: planned, ended: new Uint8Array() },
    ]);
    expect(rig.core.bootNumber()).toBe(2);
    expect(rig.core.nextSeq()).toBe(2);
  });

  it('takes one flash operation to begin an entry once sectors are erased ahead', () => {
    const rig = freshRig();
    expose(rig);
    for (let exposure = 0; exposure < 40; exposure++) {
      rig.core.idle();
      rig.settle();
      expect(rig.begin(1, planned)).toBe(code.waiting);
      expect(rig.settle()).toBe(1);
      expect(rig.end(result)).toBe(code.waiting);
      expect(rig.settle()).toBe(1);
    }
  });

  it('does nothing while the lamp is on', () => {
    const rig = freshRig();
    rig.core.forbidFlash();
    expect(rig.append(1, planned)).toBe(code.waiting);
    expect(rig.settle()).toBe(0);
    rig.core.allowFlash();
    expect(rig.settle()).toBeGreaterThan(0);
    expect(rig.entries()).toHaveLength(1);
  });

  it('refuses a second entry while one is open, an end without a beginning, and what is too long', () => {
    const rig = freshRig();
    expect(rig.end(result)).toBe(code.badRequest);
    expect(rig.append(1, new Uint8Array(209))).toBe(code.badRequest);
    expect(rig.append(1, new Uint8Array(208))).toBe(code.waiting);
    expect(rig.begin(1, planned)).toBe(code.waiting);
    expect(rig.begin(1, planned)).toBe(code.busy);
    expect(rig.end(new Uint8Array(17))).toBe(code.badRequest);
    expect(rig.end(new Uint8Array(16))).toBe(code.waiting);
    expect(rig.end(result)).toBe(code.badRequest);
  });

  it('always takes the end of an entry, however many requests wait', () => {
    const rig = freshRig();
    rig.finish(rig.begin(1, planned));
    let appended = 0;
    while (rig.append(2, planned) === code.waiting) appended++;
    expect(rig.append(2, planned)).toBe(code.busy);
    expect(rig.finish(rig.end(result))).toBe(code.done);
    expect(rig.entries().map(({ form }) => form)).toEqual(['ended', ...Array(appended).fill('whole')]);
  });

  it('gives no number twice when the newest sector holds nothing but the end of an earlier entry', () => {
    const rig = freshRig();
    const page = new Uint8Array(208);
    rig.finish(rig.begin(1, page));
    for (let entry = 0; entry < 14; entry++) rig.finish(rig.append(1, page));
    // 31 bytes of payload take two slots: none is left in the sector for the end.
    for (let entry = 0; entry < 4; entry++) rig.finish(rig.append(1, new Uint8Array(31)));
    rig.finish(rig.end(result));
    expect(rig.flash.read(2 * 4096 + 32, 1)[0]).toBe(2);
    const again = new StoreRig(rig.flash);
    expect(again.core.nextSeq()).toBe(20);
    expect(again.entry(1)?.form).toBe('ended');
  });

  // Each entry is given up in three sectors, wherever the first of them is; the last ones may have fewer left.
  it.each([0, 1, 2])(
    'gives up what waits where no sector is left that is not worn out, %i before that',
    (good) => {
      const rig = freshRig();
      for (let entry = 0; entry < good * 16; entry++)
        expect(rig.finish(rig.append(1, new Uint8Array(200)))).toBe(code.done);
      for (let sector = good + 1; sector <= 284; sector++) rig.flash.wearOut(sector % 284);
      let failed = 0;
      for (; rig.append(1, planned) === code.waiting; failed++) {
        rig.settle();
        expect(rig.finished.get(rig.ticket)).toBe(code.failed);
        expect(failed).toBeLessThan(284);
      }
      expect(rig.append(1, planned)).toBe(code.full);
      expect(rig.entries()).toHaveLength(good * 16);
    },
  );

  it('has room for 4,000 exposures, then refuses more, ends the open one and loses none', () => {
    const rig = freshRig();
    let exposures = 0;
    for (; rig.begin(1, planned) === code.waiting; exposures++) {
      rig.settle();
      expect(rig.finish(rig.end(result))).toBe(code.done);
    }
    expect(exposures).toBeGreaterThanOrEqual(4000);
    expect(rig.begin(1, planned)).toBe(code.full);
    expect(rig.append(1, result)).toBe(code.full);
    const again = new StoreRig(rig.flash);
    expect(again.core.room()).toBe(0);
    const entries = again.entries();
    expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, index) => index + 1));
    expect(entries).toHaveLength(exposures);
  });

  it('ends an entry that took the last free page, and goes on when entries were forgotten', () => {
    const rig = freshRig();
    const page = new Uint8Array(208);
    while (rig.core.room() > 1) rig.finish(rig.append(1, page));
    expect(rig.finish(rig.begin(1, page))).toBe(code.done);
    expect(rig.append(1, result)).toBe(code.full);
    expect(rig.finish(rig.end(result))).toBe(code.done);
    expect(rig.append(1, result)).toBe(code.full);
    const again = new StoreRig(rig.flash);
    again.settle();
    const last = again.core.nextSeq() - 1;
    expect(again.entry(last)?.form).toBe('ended');
    expect(again.begin(1, page)).toBe(code.full);
    expect(again.finish(again.forget(last - 1))).toBe(code.done);
    expose(again);
    expect(again.entries().map(({ seq }) => seq)).toEqual([last, last + 1]);
  });

  it('keeps a free sector for the end of an entry, should the last one in use fail', () => {
    const rig = freshRig();
    while (rig.core.room() > 1) rig.finish(rig.append(1, planned));
    const program = vi.spyOn(rig.flash, 'program');
    expect(rig.finish(rig.begin(1, planned))).toBe(code.done);
    const last = rig.core.openSeq();
    rig.flash.wearOut(Math.floor(program.mock.lastCall![0] / 4096));
    expect(rig.finish(rig.end(result))).toBe(code.done);
    // Now even that one is in use, and nothing more may be erased.
    rig.core.idle();
    rig.settle();
    expect(rig.append(1, result)).toBe(code.full);
    const again = new StoreRig(rig.flash);
    expect(again.entry(1)?.seq).toBe(1);
    expect(again.entry(last)?.form).toBe('ended');
  });

  it('makes room by forgetting, which is remembered over a restart', () => {
    const rig = freshRig();
    while (rig.finish(rig.append(1, planned)) === code.done);
    const last = rig.core.nextSeq() - 1;
    expect(rig.core.room()).toBe(0);
    expect(rig.finish(rig.forget(last - 10))).toBe(code.done);
    expect(rig.core.room()).toBeGreaterThan(4000);
    const again = new StoreRig(rig.flash);
    again.settle();
    expect(again.core.room()).toBe(rig.core.room());
    expect(again.entries().map(({ seq }) => seq)).toEqual(Array.from({ length: 10 }, (_, i) => last - 9 + i));
  });

  it('gives back the room of a sector when all in it is forgotten, and not an entry earlier', () => {
    const [pages, sectors, written] = [16, 284, 40];
    const rig = freshRig();
    // Of its sectors one is kept for the end of an entry.
    const all = (sectors - 1) * pages;
    expect(rig.core.room()).toBe(all);
    for (let entry = 1; entry <= written; entry++) {
      expect(rig.finish(rig.append(1, new Uint8Array(208)))).toBe(code.done);
      expect(rig.core.room()).toBe(all - entry);
    }
    for (let upto = 1; upto < written; upto++) {
      expect(rig.finish(rig.forget(upto))).toBe(code.done);
      expect([upto, rig.core.room()]).toEqual([upto, all - written + pages * Math.floor(upto / pages)]);
    }
  });

  it('never forgets an entry that cannot be read yet', () => {
    const rig = freshRig();
    expose(rig);
    rig.finish(rig.begin(1, planned));
    expect(rig.finish(rig.forget(0xffff_ffff))).toBe(code.done);
    expect(rig.core.forgottenSeq()).toBe(1);
    rig.finish(rig.end(result));
    expect(rig.entries().map(({ seq }) => seq)).toEqual([2]);
  });

  it('does not take back what it was told to forget when a smaller number comes right behind', () => {
    const rig = freshRig();
    for (let entry = 0; entry < 5; entry++) rig.finish(rig.append(1, planned));
    rig.forget(4);
    rig.forget(2);
    rig.settle();
    expect(rig.core.forgottenSeq()).toBe(4);
    expect(new StoreRig(rig.flash).core.forgottenSeq()).toBe(4);
  });

  it('goes round the ring for three laps with the wear spread evenly', () => {
    const rig = freshRig();
    const random = new Random(1);
    const ring = rig.flash.erases.subarray(0, 284);
    while (Math.max(...ring) < 4) {
      rig.finish(rig.append(1, random.bytes(random.below(209))));
      if (random.chance(0.1)) rig.core.idle();
      if (random.chance(0.05)) rig.finish(rig.forget(rig.core.endSeq() - 1));
    }
    expect(Math.max(...ring) - Math.min(...ring)).toBe(1);
    const tally = rig.flash.erases.subarray(284, 288);
    expect(Math.max(...tally)).toBeLessThanOrEqual(4);
  });

  it('reads on from the last entry with few reads, and finds any other quickly', () => {
    const rig = freshRig();
    for (let entry = 0; entry < 3000; entry++) rig.finish(rig.append(1, planned));
    let reads = 0;
    const read = rig.flash.read.bind(rig.flash);
    rig.flash.read = (offset, length) => {
      reads++;
      return read(offset, length);
    };
    expect(rig.entry(1500)?.seq).toBe(1500);
    expect(reads).toBeLessThan(300);
    reads = 0;
    expect(rig.entry(1501)?.seq).toBe(1501);
    expect(reads).toBeLessThanOrEqual(8);
  });

  it('goes on in the next sector when one is worn out', () => {
    const rig = freshRig();
    rig.flash.wearOut(2);
    rig.flash.wearOut(3);
    for (let entry = 0; entry < 60; entry++) expect(rig.finish(rig.append(1, planned))).toBe(code.done);
    const again = new StoreRig(rig.flash);
    expect(again.entries()).toHaveLength(60);
    expect(again.finish(again.append(1, planned))).toBe(code.done);
  });

  it('says so when nothing can be written, and stays readable', () => {
    const rig = freshRig();
    expose(rig);
    for (let sector = 0; sector < 384; sector++) rig.flash.wearOut(sector);
    expect(rig.finish(rig.begin(1, planned))).toBe(code.failed);
    expect(rig.core.openSeq()).toBe(0);
    expect(rig.entries()).toHaveLength(1);
  });

  // Three sectors at most, say the notes on the storage region: somebody waits in the dark for each.
  it('gives an entry up when the third sector does not take it, and not when the second one does not', () => {
    const rig = freshRig();
    expose(rig);
    rig.begin(1, planned);
    const asked = rig.ticket;
    for (let sector = 0; sector < 384; sector++) rig.flash.wearOut(sector);
    for (const answer of [undefined, undefined, code.failed]) {
      expect(rig.step()).toBe(true);
      expect(rig.finished.get(asked)).toBe(answer);
    }
  });
});
