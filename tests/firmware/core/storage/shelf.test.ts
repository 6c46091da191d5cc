import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { Random } from '../../../setup/random.js';
import { code, documentKind, StoreRig } from './store-rig.js';

const { recipe, settings, baths } = documentKind;
const longest = 4032;
const firstShelfSector = 288;

function freshRig(): StoreRig {
  const rig = new StoreRig(new Flash());
  rig.settle();
  return rig;
}

function body(version: number, length = 700): Uint8Array {
  return new Random(version).bytes(length);
}

function put(rig: StoreRig, kind: number, name: string, bytes: Uint8Array): void {
  expect(rig.finish(rig.put(kind, name, bytes))).toBe(code.done);
}

describe('the shelf', () => {
  it.each([0, 1, 192, 193, longest])('gives back a document of %i bytes, also after a restart', (length) => {
    const rig = freshRig();
    put(rig, recipe, 'jetty', body(1, length));
    expect(rig.document(recipe, 'jetty')).toEqual(body(1, length));
    const again = new StoreRig(rig.flash);
    expect(again.document(recipe, 'jetty')).toEqual(body(1, length));
    expect(again.core.isIntact(again.find(recipe, 'jetty'))).toBe(1);
  });

  it('refuses what cannot be a document', () => {
    const rig = freshRig();
    expect(rig.put(recipe, 'jetty', body(1, longest + 1))).toBe(code.badRequest);
    for (const kind of [0, 256]) expect(rig.put(kind, 'jetty', body(1))).toBe(code.badRequest);
    expect(rig.put(recipe, 'a-name-of-21-letters-', body(1))).toBe(code.badRequest);
    expect(rig.drop(recipe, 'jetty')).toBe(code.notFound);
  });

  it('takes the longest name, and the last kind that there may be', () => {
    const rig = freshRig();
    put(rig, 255, 'a-name-of-20-letters', body(1));
    expect(rig.document(255, 'a-name-of-20-letters')).toEqual(body(1));
  });

  it('keeps the old version until the new one is whole, then only the new one', () => {
    const rig = freshRig();
    put(rig, recipe, 'jetty', body(1));
    expect(rig.put(recipe, 'jetty', body(2))).toBe(code.waiting);
    expect(rig.document(recipe, 'jetty')).toEqual(body(1));
    rig.settle();
    expect(rig.document(recipe, 'jetty')).toEqual(body(2));
    expect(rig.core.revision()).toBe(2);
    expect(new StoreRig(rig.flash).document(recipe, 'jetty')).toEqual(body(2));
  });

  it('has not stored what it was asked for before the flash was begun to be written', () => {
    const rig = freshRig();
    expect(rig.core.isStored()).toBe(1);
    expect(rig.put(recipe, 'jetty', body(1))).toBe(code.waiting);
    expect(rig.core.isStored()).toBe(0);
    rig.settle();
    expect(rig.core.isStored()).toBe(1);
    expect(rig.drop(recipe, 'jetty')).toBe(code.waiting);
    expect(rig.core.isStored()).toBe(0);
    rig.settle();
    expect(rig.core.isStored()).toBe(1);
  });

  it('does one thing at a time', () => {
    const rig = freshRig();
    expect(rig.put(recipe, 'jetty', body(1))).toBe(code.waiting);
    expect(rig.put(settings, '', body(2))).toBe(code.busy);
    rig.settle();
    expect(rig.drop(recipe, 'jetty')).toBe(code.waiting);
    expect(rig.drop(recipe, 'jetty')).toBe(code.busy);
  });

  it('tells kinds apart and lists each in the order of names', () => {
    const rig = freshRig();
    for (const name of ['reeds', 'jetty', 'jetty-2', 'boathouse']) put(rig, recipe, name, body(1));
    put(rig, baths, 'jetty', body(2));
    put(rig, settings, '', body(3));
    put(rig, recipe, 'boathouse', body(4));
    expect(rig.names(recipe)).toEqual(['boathouse', 'jetty', 'jetty-2', 'reeds']);
    expect(rig.names(baths)).toEqual(['jetty']);
    expect(rig.document(settings, '')).toEqual(body(3));
    expect(rig.core.countDocuments(recipe)).toBe(4);
  });

  it('forgets a dropped document for good, and can take it again', () => {
    const rig = freshRig();
    put(rig, recipe, 'jetty', body(1));
    put(rig, recipe, 'jetty', body(2));
    expect(rig.finish(rig.drop(recipe, 'jetty'))).toBe(code.done);
    expect(rig.document(recipe, 'jetty')).toBeUndefined();
    const again = new StoreRig(rig.flash);
    expect(again.names(recipe)).toEqual([]);
    put(again, recipe, 'jetty', body(3));
    expect(again.core.describe(again.find(recipe, 'jetty'))).toBe(700);
    expect(again.core.revision()).toBe(1);
  });

  it('holds 64 recipes beside 30 other documents, refuses more, and replaces any of them when full', () => {
    const rig = freshRig();
    for (let number = 0; number < 64; number++) put(rig, recipe, `recipe-${number}`, body(number));
    expect(rig.put(recipe, 'one-more', body(0))).toBe(code.full);
    for (let number = 0; number < 30; number++) put(rig, baths, `baths-${number}`, body(number));
    expect(rig.put(settings, '', body(0))).toBe(code.full);
    put(rig, recipe, 'recipe-63', body(1000));
    const again = new StoreRig(rig.flash);
    expect(again.core.countDocuments(recipe)).toBe(64);
    expect(again.document(recipe, 'recipe-62')).toEqual(body(62));
    expect(again.document(recipe, 'recipe-63')).toEqual(body(1000));
  });

  it('programs without erasing when a sector is ready, also after a restart', () => {
    const rig = freshRig();
    for (let round = 0; round < 3; round++) {
      rig.core.idle();
      rig.settle();
    }
    const again = new StoreRig(rig.flash);
    again.settle();
    const erases = again.flash.erases.reduce((sum, count) => sum + count);
    put(again, recipe, 'jetty', body(1));
    expect(again.flash.erases.reduce((sum, count) => sum + count)).toBe(erases);
    expect(new StoreRig(again.flash).document(recipe, 'jetty')).toEqual(body(1));
  });

  it('erases one sector ahead and no more, wherever on the shelf it is', () => {
    const rig = freshRig();
    const erases = () => rig.flash.erases.subarray(firstShelfSector).reduce((sum, count) => sum + count);
    const before = erases();
    for (let version = 1; version <= 100; version++) {
      put(rig, recipe, 'jetty', body(version, 10));
      // A sector of the log, one of the tally, one of the shelf.
      for (let rests = 0; rests < 3; rests++) {
        rig.core.idle();
        rig.settle();
      }
      expect(erases() - before).toBe(version + 1);
    }
  });

  it('has the sector of a dropped document for others, without a restart', () => {
    const rig = freshRig();
    for (let number = 0; number < 200; number++) {
      put(rig, recipe, `recipe-${number}`, body(number, 10));
      expect(rig.finish(rig.drop(recipe, `recipe-${number}`))).toBe(code.done);
    }
    expect(rig.core.countDocuments(recipe)).toBe(0);
  });

  it('puts a document where it erased ahead, wherever that is and whatever was dropped since', () => {
    const rig = freshRig();
    for (let version = 1; version <= 100; version++) {
      put(rig, recipe, 'reeds', body(version, 10));
      if (version % 7 === 0) put(rig, recipe, 'boathouse', body(version, 10));
      // A sector of the log, one of the tally, one of the shelf.
      for (let rests = 0; rests < 3; rests++) {
        rig.core.idle();
        rig.settle();
      }
      expect(rig.finish(rig.drop(recipe, 'reeds'))).toBe(code.done);
      put(rig, recipe, 'jetty', body(version, 300));
      expect(rig.document(recipe, 'jetty')).toEqual(body(version, 300));
    }
  });

  it('takes turns with the free sectors, restarts or not', () => {
    let rig = freshRig();
    for (let number = 0; number < 40; number++) put(rig, recipe, `recipe-${number}`, body(number, 10));
    for (let version = 0; version < 600; version++) {
      put(rig, recipe, 'recipe-7', body(version, 10));
      if (version % 11 === 0) rig = new StoreRig(rig.flash);
    }
    const turns = [...rig.flash.erases.subarray(firstShelfSector)].sort((a, b) => b - a).slice(0, 56);
    expect(turns[0]! - turns[55]!).toBeLessThanOrEqual(1);
  });

  it('leaves worn-out sectors aside, and says so when none is left', () => {
    const rig = freshRig();
    put(rig, recipe, 'jetty', body(1));
    rig.flash.wearOut(firstShelfSector + 2);
    rig.flash.wearOut(firstShelfSector + 3);
    put(rig, recipe, 'jetty', body(2));
    for (let sector = 0; sector < 96; sector++) rig.flash.wearOut(firstShelfSector + sector);
    expect(rig.finish(rig.put(recipe, 'jetty', body(3)))).toBe(code.failed);
    expect(rig.finish(rig.drop(recipe, 'jetty'))).toBe(code.failed);
    expect(rig.document(recipe, 'jetty')).toEqual(body(2));
  });

  // Three sectors at most, say the notes on the storage region: the laptop and whoever keeps a print wait for each.
  it('gives a document up when the third sector does not take it, and not when the second one does not', () => {
    const rig = freshRig();
    for (let sector = 0; sector < 96; sector++) rig.flash.wearOut(firstShelfSector + sector);
    expect(rig.put(recipe, 'jetty', body(1))).toBe(code.waiting);
    for (const answer of [undefined, undefined, code.failed]) {
      expect(rig.step()).toBe(true);
      expect(rig.finished.get(rig.ticket)).toBe(answer);
    }
  });

  it('keeps the old version when the bytes of the new one change under its hands', () => {
    const rig = freshRig();
    put(rig, recipe, 'jetty', body(1));
    expect(rig.put(recipe, 'jetty', body(2))).toBe(code.waiting);
    rig.spoilBody();
    rig.settle();
    expect(rig.finished.get(rig.ticket)).toBe(code.failed);
    expect(rig.document(recipe, 'jetty')).toEqual(body(1));
    put(rig, recipe, 'jetty', body(3));
  });

  it('lets a begun exposure go before the rest of an upload', () => {
    const rig = freshRig();
    rig.finish(rig.append(1, body(1, 10)));
    expect(rig.put(recipe, 'jetty', body(1, longest))).toBe(code.waiting);
    rig.step();
    rig.step();
    expect(rig.begin(1, body(1, 104))).toBe(code.waiting);
    const ticket = rig.ticket;
    rig.step();
    expect(rig.finished.get(ticket)).toBe(code.done);
    expect(rig.document(recipe, 'jetty')).toBeUndefined();
    rig.settle();
    expect(rig.document(recipe, 'jetty')).toEqual(body(1, longest));
  });
});
