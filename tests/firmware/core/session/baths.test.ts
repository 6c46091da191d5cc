import { beforeEach, describe, expect, it } from 'vitest';
import { limits, type MessageOf } from '../../../../shared-protocol/index.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { Conversation } from './conversation.js';

let board: Conversation;
beforeEach(() => {
  board = Conversation.greeted();
});

type BathSet = MessageOf<'bath-set'>;

function bathSet(bath: number, baths: number, label: string, change: Partial<BathSet> = {}): BathSet {
  const times = {
    resinCoatedSeconds: 60 * bath,
    fibreSeconds: 90 * bath,
    drainSeconds: 10,
    agitationSeconds: 15,
  };
  return { type: 'bath-set', id: board.nextId++, bath, baths, label, limitCm2: 0, ...times, ...change };
}

const set = (...row: string[]) =>
  row.map((label, at) => board.say(bathSet(at + 1, row.length, label))[0]!.type);
const get = (bath: number) => board.say({ type: 'bath-get', id: board.nextId++, bath })[0]!;

describe('the baths', () => {
  it('of a new board are the usual ones', () => {
    usualBaths.forEach((bath, at) => {
      expect(get(at + 1)).toMatchObject({
        ...{ type: 'bath', bath: at + 1, baths: usualBaths.length, sheets: 0, areaCm2: 0, ...bath },
      });
    });
    expect(get(usualBaths.length + 1)).toMatchObject({ type: 'error', code: 'not-found' });
  });

  it('are replaced by a whole row, which is there after the next start', () => {
    expect(set('développeur', 'stop', 'fixer')).toEqual(['ok', 'ok', 'ok']);
    expect(get(1)).toMatchObject({ label: 'développeur', resinCoatedSeconds: 60, baths: 3 });
    board = new Conversation(board.flash);
    board.hello();
    expect(get(3)).toMatchObject({ label: 'fixer', resinCoatedSeconds: 180, fibreSeconds: 270 });
    expect(get(4)).toMatchObject({ code: 'not-found' });
  });

  it('stay as they were when the row is not sent to its end', () => {
    board.say(bathSet(1, 2, 'half'));
    expect(get(1)).toMatchObject({ label: usualBaths[0].label });
    board.say(bathSet(1, 1, 'whole'));
    expect(get(1)).toMatchObject({ label: 'whole', baths: 1 });
  });

  // They shared a tally, so that a used fixer looked fresh.
  it('of one label are refused, and the row stays as it was', () => {
    expect(set('developer', 'fixer', 'wash')).toEqual(['ok', 'ok', 'ok']);
    board.say(bathSet(1, 3, 'fixer'));
    board.say(bathSet(2, 3, 'stop'));
    expect(board.say(bathSet(3, 3, 'fixer'))).toMatchObject([
      { type: 'error', code: 'not-allowed', text: 'two baths have that label' },
    ]);
    expect(get(1)).toMatchObject({ label: 'developer', baths: 3 });
    expect(board.say(bathSet(3, 3, 'another'))).toMatchObject([{ type: 'ok' }]);
    expect(get(1)).toMatchObject({ label: 'fixer' });
  });

  it('are as many as the schema allows, and no more', () => {
    const row = Array.from({ length: limits.baths }, (_, at) => `bath ${at + 1}`);
    expect(new Set(set(...row))).toEqual(new Set(['ok']));
    expect(get(limits.baths)).toMatchObject({ label: `bath ${limits.baths}` });
    board = new Conversation(board.flash);
    board.hello();
    row.forEach((label, at) => {
      expect(get(at + 1)).toMatchObject({ label, bath: at + 1, baths: limits.baths });
    });
  });

  it('are refused out of order, past the end of the row, and without a label', () => {
    const refused = { type: 'error', code: 'not-allowed' };
    expect(board.say(bathSet(2, 3, 'second'))).toMatchObject([refused]);
    board.say(bathSet(1, 3, 'first'));
    expect(board.say(bathSet(3, 3, 'third'))).toMatchObject([refused]);
    expect(board.say(bathSet(1, 3, ''))).toMatchObject([{ ...refused, text: 'a bath needs a label' }]);
    board.say(bathSet(1, 1, 'only'));
    expect(board.say(bathSet(2, 1, 'more'))).toMatchObject([refused]);
  });

  it('are refused a row that the flash does not take, and stay as they were', () => {
    for (let sector = 0; sector < limits.storageBytes / limits.sectorBytes; sector++)
      board.flash.wearOut(sector);
    expect(board.say(bathSet(1, 1, 'only'))).toMatchObject([{ type: 'error' }]);
    expect(get(1)).toMatchObject({ label: usualBaths[0].label });
  });

  it('mixed fresh are logged, and the answer to a repeated request does not do it twice', () => {
    const mixed = { type: 'bath-renew', id: 77, bath: 2 } as const;
    expect(board.say(mixed)).toMatchObject([{ type: 'ok', id: 77 }]);
    expect(board.say(mixed)).toMatchObject([{ type: 'ok', id: 77 }]);
    const log = board.say({ type: 'collect', id: 78, fromSeq: 1, count: 20 });
    expect(log.filter((line) => line.type === 'bath-used')).toMatchObject([
      { bath: 2, label: 'stop', sheets: 0, plannedMs: 0, totalSheets: 0, totalCm2: 0 },
    ]);
    expect(board.say({ type: 'bath-renew', id: 79, bath: 8 })).toMatchObject([{ code: 'not-found' }]);
  });
});
