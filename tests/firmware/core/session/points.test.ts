import { beforeEach, describe, expect, it } from 'vitest';
import { limits, type MessageOf } from '../../../../shared-protocol/index.js';
import { Conversation } from './conversation.js';

let board: Conversation;
beforeEach(() => {
  board = Conversation.greeted();
});

function pointSet(point: number, points: number, label = 'developer'): MessageOf<'point-set'> {
  const times = { trayC10: 150 + 10 * point, resinCoatedSeconds: 120 - point, fibreSeconds: 240 - point };
  return { type: 'point-set', id: board.nextId++, point, points, label, ...times };
}

const get = (point: number) => board.say({ type: 'point-get', id: board.nextId++, point })[0]!;
const clear = () => board.say({ type: 'points-clear', id: board.nextId++ })[0]!;

describe('times by temperature', () => {
  it('are none on a new board, and clearing none is no fault', () => {
    // There is nothing more to say of it: text and range stay empty.
    expect(get(1)).toMatchObject({ type: 'error', code: 'not-found', text: '', field: 0, low: 0, high: 0 });
    expect(clear()).toMatchObject({ type: 'ok' });
  });

  it('are kept as a whole, as many as there may be, and are there after the next start', () => {
    for (let point = 1; point <= limits.bathPoints; point++)
      expect(board.say(pointSet(point, limits.bathPoints))[0]).toMatchObject({ type: 'ok' });
    board = new Conversation(board.flash);
    board.hello();
    expect(get(limits.bathPoints)).toMatchObject({
      ...{ type: 'bath-point', points: 12, label: 'developer', trayC10: 270 },
      ...{ resinCoatedSeconds: 108, fibreSeconds: 228 },
    });
  });

  it('stay as they were when not all were sent, or out of order, or without a label', () => {
    board.say(pointSet(1, 1, 'first'));
    board.say(pointSet(1, 2, 'half'));
    expect(get(1)).toMatchObject({ label: 'first', points: 1 });
    expect(board.say(pointSet(3, 3))[0]).toMatchObject({ code: 'not-allowed' });
    expect(board.say(pointSet(1, 1, ''))[0]).toMatchObject({
      code: 'not-allowed',
      text: 'a bath needs a label',
    });
    expect(get(1)).toMatchObject({ label: 'first', points: 1 });
  });

  // A board keeps its last answers in turn: each of their places is tried.
  it.each([0, 1, 2, 3])('that begin to come make no other request be done twice (%i)', (others) => {
    for (let other = 0; other < others; other++) board.say({ type: 'ping', id: board.nextId++ });
    const renew = { type: 'bath-renew', id: board.nextId++, bath: 1 } as const;
    board.say(renew);
    board.say(pointSet(1, 2));
    expect(board.say(renew)).toMatchObject([{ type: 'ok', id: renew.id }]);
    const log = board.say({ type: 'collect', id: board.nextId++, fromSeq: 1, count: 20 });
    expect(log.filter((line) => line.type === 'bath-used')).toHaveLength(1);
  });

  it('are cleared, over the next start too', () => {
    board.say(pointSet(1, 1));
    expect(clear()).toMatchObject({ type: 'ok' });
    expect(get(1)).toMatchObject({ code: 'not-found' });
    board = new Conversation(board.flash);
    board.hello();
    expect(get(1)).toMatchObject({ code: 'not-found' });
  });
});
