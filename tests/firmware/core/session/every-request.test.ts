import fc from 'fast-check';
import { expect, it } from 'vitest';
import { encodeLine, type Message, messages, messageTypes } from '../../../../shared-protocol/index.js';
import { arbitraryMessage, seed } from '../../../shared-protocol/arbitrary-message.js';
import { Conversation, readAll, recipeUpload, sealed } from './conversation.js';

/** Where a number of 16 bits would turn over if it had a sign, and the last. */
const IDS = [0x7fff, 0x8000, 0xffff];
const requests = messageTypes.filter((type) => messages[type].role === 'request');

/** A board with a recipe, a bath and its times, whose log has something in it. */
function furnished(): Conversation {
  const board = Conversation.greeted();
  const bath = { resinCoatedSeconds: 60, fibreSeconds: 60, drainSeconds: 0, agitationSeconds: 200 };
  for (const message of recipeUpload('slipway', 8000)) board.say(message);
  board.say({ type: 'bath-set', id: 7, bath: 1, baths: 1, label: 'developer', ...bath, limitCm2: 65_000 });
  board.say({ type: 'choose', id: 8, job: 'recipe', name: 'slipway' });
  return board;
}

/** The laptop has words of its own for these. */
const WITHOUT_WORDS = ['not-found', 'damaged', 'full'];
const WORDS = /^[A-Za-z0-9 ,:;.()'/-]{4,}$/;

const asked: readonly Message[] = [
  { type: 'collect', id: 0, fromSeq: 1, count: 64 },
  { type: 'recipe-get', id: 0, name: 'slipway' },
  { type: 'recipe-remove', id: 0, name: 'slipway' },
  { type: 'bath-get', id: 0, bath: 1 },
  { type: 'recipe-commit', id: 0, whole: '00000000' },
  { type: 'choose', id: 0, job: 'recipe', name: 'slipway' },
];

it('every request is answered under its own number, whatever that is, and in words where it is refused', () => {
  const board = furnished();
  for (const type of requests) {
    const some = fc.sample(arbitraryMessage([type]), { seed, numRuns: 3 });
    const messages = [...some, ...asked.filter((each) => each.type === type)];
    for (const message of messages.flatMap((each) => IDS.map((id) => ({ ...each, id }) as Message))) {
      const said = board.say(message);
      expect(said.length, encodeLine(message)).toBeGreaterThan(0);
      for (const line of said) {
        expect(line.id).toBe(message.id);
        if (line.type === 'error' && !WITHOUT_WORDS.includes(line.code)) expect(line.text).toMatch(WORDS);
      }
    }
  }
});

it('what no board knows, and what is no line, is refused in words as well', () => {
  const board = furnished();
  const damaged = encodeLine({ type: 'ping', id: 9 }).replace('ping', 'pong');
  for (const [line, id] of [
    [sealed('["polished",9,1'), 9],
    [damaged, 0],
    ['once upon a time\n', 0],
  ] as const)
    expect(readAll(board.raw(line)), line).toMatchObject([
      { type: 'error', id, text: expect.stringMatching(WORDS) },
    ]);
});

it('what is sent out of its order is refused by what is missing, and all of it is there afterwards as it was', () => {
  const board = furnished();
  const parts = recipeUpload('other', 9000, 300);
  const before = board.say({ type: 'recipe-list', id: 299 });
  for (const part of parts.slice(1)) {
    const [answer] = board.say({ ...part, id: part.id + 100 });
    expect(answer).toMatchObject({ type: 'error', text: 'no upload is under way: send recipe-begin first' });
  }
  board.say(parts[0]!);
  const [damaged] = board.say({ type: 'recipe-commit', id: 500, whole: '00000000' });
  expect(damaged).toMatchObject({ type: 'error' });
  expect(
    readAll(board.raw(encodeLine({ type: 'recipe-list', id: 299 }))).map(({ id: _, ...line }) => line),
  ).toEqual(before.map(({ id: _, ...line }) => line));
});
