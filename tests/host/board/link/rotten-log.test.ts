import { describe, expect, it } from 'vitest';
import type { Flash } from '../../../../host/board/sim/flash.js';
import { limits } from '../../../../shared-protocol/index.js';
import { seedFlash, seedHeld } from '../../../formats/seed.js';
import { LaptopAndBoard } from './laptop.js';

const { oldestSeq, nextSeq } = seedHeld(1);
const SLOT_BYTES = 32;
const TALLY_AT = 0x11c000;

/** Where the records of these numbers lie in the log's part of the flash. */
function placesOf(flash: Flash, seqs: readonly number[]): number[] {
  const places: number[] = [];
  for (let at = 0; at < TALLY_AT; at += SLOT_BYTES) {
    if (at % limits.sectorBytes === 0) continue;
    const header = Buffer.from(flash.read(at, 16));
    if (
      header[0]! >= 1 &&
      header[0]! <= 3 &&
      header.readUInt16LE(2) < 256 &&
      seqs.includes(header.readUInt32LE(4))
    )
      places.push(at);
  }
  return places;
}

const span = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, at) => from + at);

async function collectAfter(rotten: readonly number[]) {
  const pair = new LaptopAndBoard({ flash: seedFlash(1) });
  pair.board.advanceUs(1_000_000);
  return pair.with(async (laptop) => {
    const { nextSeq: end } = await laptop.status();
    for (const place of placesOf(pair.board.flash, rotten)) pair.board.flash.flipBits(place + 10, 0x40);
    const seqs: number[] = [];
    const holes: number[] = [];
    for await (const batch of laptop.collect(oldestSeq)) {
      seqs.push(...batch.records.map(({ seq }) => seq));
      holes.push(...batch.holes);
    }
    return { seqs: seqs.filter((seq) => seq < end), holes: holes.filter((seq) => seq < end), end };
  });
}

// Four were told as 61 once, and a log that had rotted whole was asked for again and again.
describe('records that rot while the board runs', () => {
  it.each<[string, readonly number[]]>([
    ['one in the middle', [40]],
    ['four in the middle', span(40, 43)],
    ['the first four', span(oldestSeq, oldestSeq + 3)],
    ['the last four that were there before', span(nextSeq - 4, nextSeq - 1)],
    ['the four newest', span(nextSeq - 2, nextSeq + 1)],
    ['two stretches', [...span(20, 25), ...span(77, 80)]],
    ['more than one request asks for', span(20, 90)],
    ['all', span(oldestSeq, 200)],
  ])('%s: are holes, they alone, and the rest is told once', async (_, rotten) => {
    const { seqs, holes, end } = await collectAfter(rotten);
    const there = span(oldestSeq, end - 1);
    expect(holes).toEqual(there.filter((seq) => rotten.includes(seq)));
    expect(seqs).toEqual(there.filter((seq) => !rotten.includes(seq)));
  });
});
