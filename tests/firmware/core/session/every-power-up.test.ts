import { describe, expect, it } from 'vitest';
import { limits, type MessageOf } from '../../../../shared-protocol/index.js';
import { Conversation } from './conversation.js';

const STARTS = 160;
/** How often another sector is tried when one does not take a document: see 'The storage region' in the core's notes. */
const TRIED = 3;
const SHELF_AT = 0x12_0000;
const SHELF_SECTORS = 96;

function lastLog(board: Conversation, fromSeq: number) {
  return board.say({ type: 'collect', id: board.nextId++, fromSeq, count: 64 });
}

describe('power-up', () => {
  it('counts one more each time, with an entry of each that is read from any place, whatever was forgotten meanwhile', () => {
    let board = Conversation.greeted();
    let forgotten = 0;
    for (let start = 2; start <= STARTS; start++) {
      board = new Conversation(board.flash);
      expect(board.hello()).toMatchObject([{ type: 'welcome', boot: start }]);
      const [status] = board.say({ type: 'ping', id: 5 }) as [MessageOf<'status'>];
      expect(status).toMatchObject({ boot: start, nextSeq: start + 1, oldestSeq: forgotten + 1 });
      const from = Math.max(forgotten + 1, start - 40);
      expect(lastLog(board, from)).toMatchObject([
        ...Array.from({ length: start - from + 1 }, (_, at) => ({
          type: 'started',
          seq: from + at,
          boot: from + at,
        })),
        { type: 'collected', nextSeq: start + 1, endSeq: start + 1 },
      ]);
      if (start % 7 !== 0) continue;
      forgotten = start - 3;
      expect(board.say({ type: 'forget', id: 6, uptoSeq: forgotten })).toMatchObject([{ type: 'ok' }]);
      // What is forgotten already is no fault.
      expect(board.say({ type: 'forget', id: 7, uptoSeq: forgotten - 1 })).toMatchObject([{ type: 'ok' }]);
    }
  });
});

describe('the shelf', () => {
  it('goes round all its places, and has the last value of each name wherever it lies, over power-off too', () => {
    let board = Conversation.greeted();
    const names = ['lamp-lag-ms', 'lamp-rise-ms'] as const;
    for (let put = 1; put <= 2 * SHELF_SECTORS + 10; put++) {
      const name = names[put % 2]!;
      const set = { type: 'set-setting', id: board.nextId++, name, value: put } as const;
      expect(board.say(set), `put ${put}`).toMatchObject([{ type: 'setting', value: put }]);
      if (put % 3 === 0) board.say({ type: 'name-set', id: board.nextId++, name: `board ${put}` });
      if (put % 10 !== 0) continue;
      board = new Conversation(board.flash);
      board.hello();
      for (const [back, each] of [names[put % 2]!, names[(put + 1) % 2]!].entries())
        expect(board.say({ type: 'get-setting', id: board.nextId++, name: each })).toMatchObject([
          { value: put - back },
        ]);
      expect(board.say({ type: 'name-get', id: board.nextId++ })).toMatchObject([
        { name: `board ${put - (put % 3)}` },
      ]);
    }
  });

  it(`tries another place where one is worn out, ${TRIED} at most, and keeps what was there where none takes it`, () => {
    const free = (board: Conversation) =>
      Array.from({ length: SHELF_SECTORS }, (_, at) => SHELF_AT + at * limits.sectorBytes).filter(
        (offset) => Buffer.from(board.flash.read(offset, 4)).toString() !== 'Shf1',
      );
    for (let worn = 0; worn <= TRIED; worn++) {
      const board = Conversation.greeted();
      board.say({ type: 'set-setting', id: 50, name: 'lamp-lag-ms', value: 11 });
      for (const offset of free(board).slice(0, worn)) board.flash.wearOut(offset / limits.sectorBytes);
      // One that was prepared beforehand is whole.
      for (const value of [12, 13]) {
        const [answer] = board.say({ type: 'set-setting', id: 40 + value, name: 'lamp-lag-ms', value });
        const isTaken = answer!.type === 'setting';
        if (worn < TRIED) expect(answer).toMatchObject({ type: 'setting', value });
        if (!isTaken) expect(answer).toMatchObject({ text: 'the flash did not take it' });
      }
      const later = new Conversation(board.flash);
      later.hello();
      const kept = board.say({ type: 'get-setting', id: 60, name: 'lamp-lag-ms' }) as [MessageOf<'setting'>];
      expect(later.say({ type: 'get-setting', id: 60, name: 'lamp-lag-ms' })).toMatchObject([
        { value: kept[0].value },
      ]);
    }
  });
});
