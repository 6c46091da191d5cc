import { expect, it } from 'vitest';
import { encodeLine, type Message } from '../../../../shared-protocol/index.js';
import { Conversation, recipeUpload } from './conversation.js';

/** What comes of each list alone, and of all of them asked for before the first has been read out. */
it('lists that are asked for at once come one after the other, each as it would come alone', () => {
  const board = Conversation.greeted();
  for (const [at, name] of ['jetty', 'slipway', 'weir'].entries())
    for (const message of recipeUpload(name, 8000, 1000 + 10 * at)) board.say(message);
  for (let id = 2000; id < 2020; id++) board.say({ type: 'set-clock', id, epochMs: 1_800_000_000_000 + id });
  const lists: Message[] = [
    { type: 'collect', id: 1, fromSeq: 3, count: 7 },
    { type: 'recipe-list', id: 2 },
    { type: 'recipe-get', id: 3, name: 'slipway' },
    { type: 'collect', id: 4, fromSeq: 8, count: 5 },
  ];
  const without = (message: Message) => ({ ...message, id: 0 });
  const alone = lists.map((list) => board.say({ ...list, id: list.id + 3000 } as Message).map(without));
  for (const first of lists)
    for (const second of lists.filter((list) => list !== first)) {
      board.hello();
      board.roomBytes = 0;
      // A laptop that hears nothing for a while asks again.
      for (const list of [first, second, first, second]) board.raw(encodeLine(list));
      const heard: Message[] = [];
      for (let turn = 0; turn < 60; turn++) heard.push(...board.drain(250));
      const [one, other] = [first, second].map((list) => alone[lists.indexOf(list)]!) as [
        Message[],
        Message[],
      ];
      expect(heard.map(({ id }) => id)).toEqual([...one.map(() => first.id), ...other.map(() => second.id)]);
      expect(heard.map(without)).toEqual([...one, ...other]);
      board.roomBytes = Number.POSITIVE_INFINITY;
    }
});

it('as many lists as may be asked for at once, between any two parts of a recipe, leave it as it was sent', () => {
  const board = Conversation.greeted();
  const parts = recipeUpload('slipway', 8000, 100);
  const heard: Message[] = [];
  for (const [at, part] of parts.entries()) {
    board.roomBytes = 0;
    for (let list = 0; list < 3; list++)
      board.raw(encodeLine({ type: 'collect', id: 1000 + 3 * at + list, fromSeq: 1, count: 5 }));
    heard.push(...board.drain());
    expect(board.say(part), encodeLine(part)).toMatchObject([{ type: 'ok' }]);
  }
  expect(heard.filter(({ type }) => type === 'collected')).toHaveLength(3 * parts.length);
  const told = board.say({ type: 'recipe-get', id: 9, name: 'slipway' });
  for (const { id: _, ...part } of parts.slice(0, -1)) expect(told).toContainEqual({ ...part, id: 9 });
});
