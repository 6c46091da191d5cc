import type { Equal } from '../../equal.js';

/** What is told before it could be asked, what nobody asks for, and what comes out the same at its edge. */
export const nobodyAsks: readonly Equal[] = [
  {
    file: 'firmware/core/evening/announce.ts',
    line: 'noticeMoved(situation.state, 0, 0, NO_TEXT, 0, nowUs)',
    change: /^(?<tens>\d+)(?:0 as \k<tens>1|2 as \k<tens>3|4 as \k<tens>5|6 as \k<tens>7|8 as \k<tens>9)$/,
    why: 'a text of no letters is one byte at a multiple of 16, and behind it is only what fills up to the next place, which is zero',
  },
  {
    file: 'firmware/core/evening/asking.ts',
    line: 'ask(Question.KeepAs, nowUs)',
    change: /^0 as -1$/,
    why: 'it is what is left when it is none of the other questions, everywhere: it is never asked for by itself',
  },
  {
    file: 'firmware/core/evening/desk.ts',
    line: '  forgetKeptDesk();',
    below: 'export function openDesk',
    change: /^call forgetKeptDesk left out$/,
    why: 'at power-up what is kept is all zero: it becomes what was read, or what lies there now, and where that is zero as well it is so already',
  },
  {
    file: 'firmware/core/evening/exposing.ts',
    line: 'situation.startWanted = false;',
    below: 'leavePass(nowUs);',
    change: /^call Situation#set:startWanted left out$/,
    why: 'only a tap asks for light, and the next press, ten seconds before the pedal counts as stuck, calls that off: a foot is deaf only after a light, from before the press of such a tap. At power-up nothing was asked for',
  },
  {
    file: 'firmware/core/evening/left-sheet.ts',
    line: 'changetype<usize>(leftGiven), offsetof<Given>())',
    change: /^48 as 47$/,
    why: "the end of the piece that was asked about last: only a light on paper changes it, after which no sheet is left that could be gone on with but the light's own",
  },
  {
    file: 'firmware/core/evening/making-way.ts',
    line: 'if (clicks < 0) {',
    change: /^i32\.lt_s as le_s$/,
    why: 'a turn of no detents was told before',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'let place = 0;',
    change: /^0 as -1$/,
    why: 'the byte before the row is of the traits, or fills up behind them: 1 or 0, a strip or nothing, and both were told before',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'if (place < COUNT_BEFORE_RECIPES) return place',
    change: /^4 as 3$/,
    why: 'the last of them is the strip, which was told before',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'let document = documentAfter(-1); document >= 0;',
    change: /^-1 as -2$/,
    why: 'the first of all is asked for by any number below zero',
  },
  {
    file: 'firmware/core/evening/noted-sheet.ts',
    line: 'changetype<usize>(eveningPlan), PLAN_BYTES)',
    change: /^1068 as 1067$/,
    why: 'no plan has all of its 47 pieces, since a bracket has nine variants at most: the last one is zero in both plans',
  },
  {
    file: 'firmware/core/log/outbox.ts',
    line: 'begunTicket == i32.MAX_VALUE ? LOG_TICKETS + 1 : begunTicket + 1',
    change: /^1 as 2$/,
    why: 'tickets are only compared, and stay apart by twos for a billion lights without power-off, each of which takes a page of a flash that takes half as many',
  },
  {
    file: 'firmware/core/storage/flash-queue.ts',
    line: 'if (ticket == 0 || finishedCount == FINISHED) return;',
    change: /^8 as [79]$/,
    why: 'five requests at most are under way, so that there are never as many',
  },
  {
    file: 'firmware/core/storage/journal-writer.ts',
    line: 'endRecord(StoreCode.Failed);',
    below: 'if (prepareSector(journal)) return Issued.Started;',
    change: /^-5 as -[46]$/,
    why: "the log alone has an end, the tally may use every sector; and of the log's records it is asked only whether they are done",
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'return this.headSector >= this.sectors ? this.headSector - this.sectors + 1 : 1;',
    change: /^i32\.ge_u as gt_u$/,
    why: 'where they are the same, either is 1',
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'return at + slotBytes <= SECTOR_BYTES ? at : SECTOR_BYTES;',
    change: /^i32\.add as sub$/,
    why: 'the line above sees to it that it ends in its page: it goes beyond the sector only where it begins at its end, and that is the answer either way',
  },
  {
    file: 'firmware/core/storage/ring.ts',
    line: 'if (from >= end) return StoreCode.NotFound;',
    change: /^-3 as -[24]$/,
    why: 'both that read, the lines of the log and the sheet on the desk, ask only whether it was done',
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'sector++) settleName(sector);',
    change: /^i32\.lt_s as le_s$/,
    why: 'behind the shelf the storage ends, and there is no header: nothing is of the same name',
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'for (let sector = 0; sector < SHELF_SECTORS; sector++) {',
    below: 'const key = other.key();',
    change: /^96 as 97$/,
    why: 'behind the shelf the storage ends, and there is no header: nothing is of the same name',
  },
  {
    file: 'firmware/core/storage/tally.ts',
    line: '((loggedBoot - bootNumber) & 0xffff) < BOOTS_AHEAD',
    change: /^65535 as 65534$/,
    why: 'it is compared with an even number: the last bit decides nothing',
  },
];
