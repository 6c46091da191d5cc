import type { Equal } from '../../equal.js';
import { padding, sign } from './kinds.js';

/** What is kept and counted: the flash, baths and their times, timers, figures as they are shown. */
export const storageAndBaths: readonly Equal[] = [
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'else putNumber((ms + 500) / 1000);',
    change: sign,
    why: 'here it is a thousand seconds and more',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'putByte(u8(0x30 + ((value / unit) % 10)));',
    change: sign,
    why: 'no time and no temperature is below zero; of stops the sign is put first',
  },
  {
    file: 'firmware/core/arithmetic/lamp.ts',
    line: 'let tooShortUs = mostTooShortUs(eachUs, shortfallUs);',
    change: /^call mostTooShortUs left out$/,
    why: 'nothing is too short as well, the dose grows with the time, and a bisection from there finds the same later',
  },
  {
    file: 'firmware/core/arithmetic/lamp.ts',
    line: 'let longEnoughUs = leastLongEnoughUs(eachUs + 1, shortfallUs);',
    change: /^i32\.add as sub$/,
    why: 'the lamp test alone asks. Where the glow shortens a pulse the end is never come to; elsewhere all pulses are whole ms together, to which 32 us less are rounded (reckoned for the lamps of its patches, lags from -500 to 1000 ms and rises to 1000)',
  },
  {
    file: 'firmware/core/baths/baths.ts',
    line: 'return min(BATHS, i32(bathAt(bathRow, 0).baths));',
    change: /^8 as [79]$/,
    why: 'it stands for more than eight, which no row has: fields are checked, and the shelf has a checksum',
  },
  {
    file: 'firmware/core/baths/incoming-points.ts',
    line: 'memory.copy(changetype<usize>(to), changetype<usize>(from), BATH_POINT_BYTES)',
    change: /^48 as 47$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'memory.fill(pointRow, 0, POINT_ROW_BYTES)',
    change: /^576 as 575$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'if (isBelow ? at > c10 : at < c10) continue;',
    change: sign,
    why: 'no tray is below zero',
  },
  {
    file: 'firmware/core/timers/timers.ts',
    line: 'timer < TIMER_COUNT; timer++) store<i64>',
    change: /^10 as 11$|^i32\.gt_s as ge_s$/,
    why: 'behind the timers lies what the state leaves of its room, more than a hundred bytes, which nothing reads',
  },
  {
    file: 'firmware/core/timers/timers.ts',
    line: 'if (dueUs(timer) < dueUs(earliest))',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/storage/flash-queue.ts',
    line: 'if (ticket == 0 || finishedCount == FINISHED) return;',
    change: /^return left out$/,
    why: 'only the tally has ticket 0, which ends with a flash operation, and nobody knows that number; five requests at most are under way, and there are eight places',
  },
  {
    file: 'firmware/core/storage/journal-writer.ts',
    line: 'if (++waitingAt(0).failures < TRIED_SECTORS)',
    change: sign,
    why: 'it counts from 0',
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'flashRead(offset, changetype<usize>(record), RECORD_HEADER_BYTES)',
    change: /^16 as 17$/,
    why: 'the byte behind the header is the first of the payload, which is read next, or of nothing that is asked for',
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'if (at < SECTOR_BYTES) {',
    change: sign,
    why: 'a place in a sector is not below zero',
  },
  {
    file: 'firmware/core/storage/ring.ts',
    line: 'const middle = low + (high - low) / 2;',
    change: /^1 as 2$/,
    why: 'wherever between the two it looks it finds the same, since numbers rise from sector to sector; a quarter is only slower',
  },
  {
    file: 'firmware/core/storage/ring.ts',
    line: 'queueRecord(ring, RecordType.Ended, 0, openSeq',
    change: /^0 as (?:1|-1)$/,
    why: 'the end of an entry has no kind of its own: nothing reads that of its record',
  },
  {
    file: 'firmware/core/storage/ring.ts',
    line: 'entryEndedBytes = 0;',
    change: /^0 as (?:1|-1)$/,
    why: 'it is asked for only where the end was found, which sets it',
  },
  {
    file: 'firmware/core/storage/shelf-writer.ts',
    line: '  step = Step.None;',
    change: /^0 as 1$/,
    why: 'until the next operation says which step it is only asked whether a mark is due',
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'return <SectorState>load<u8>(states + sector);',
    change: sign,
    why: 'there are five states',
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'sector++) if (isKind(sector, kind)) count++;',
    change: /^96 as 97$/,
    why: "recipes are counted; behind the last sector's state and kind lie the first one's kind and key: they would count if that were the settings, and the key of their only name does not end in 1",
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'for (let sector = 0; sector < SHELF_SECTORS; sector++) {',
    change: /^0 as -1$/,
    why: "before the shelf lies the tally's last sector: where a header would be it is blank or has a record, and no checksum",
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'return document >= 0 && stateOf(document) == SectorState.Live',
    change: /^0 as -1$/,
    why: "before the shelf lies the tally's last sector: where a header would be it is blank or has a record, and no checksum",
  },
];
