import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Flash } from '../../../../host/board/sim/flash.js';
import { storageFormat } from '../../../../shared-protocol/documents.js';
import {
  limits,
  type Message,
  type MessageType,
  messages,
  messageTypes,
} from '../../../../shared-protocol/index.js';
import { arbitraryMessage, seed } from '../../../shared-protocol/arbitrary-message.js';
import { Conversation, recipeUpload } from './conversation.js';

const requests = messageTypes.filter((type) => messages[type].role === 'request');

/** One of each kind of request, each with a number of its own. */
function oneOfEach(): Message[] {
  return requests.map((type, at) => {
    const [message] = fc.sample(arbitraryMessage([type]), { seed, numRuns: 1 });
    return { ...message!, id: 500 + at } as Message;
  });
}

const isRefused = (said: readonly Message[], words: RegExp) =>
  said.length === 1 &&
  said[0]!.type === 'error' &&
  said[0]!.code === 'not-allowed' &&
  words.test(said[0]!.text);

describe('a laptop of another version', () => {
  /** Every version asks for these, says the schema: the log is collected and forgotten, and new firmware let in. */
  const ANY_VERSION: readonly MessageType[] = ['hello', 'collect', 'forget', 'make-way'];

  it.each([
    ['that said which', /versions differ/],
    ['that said nothing yet', /say hello first/],
  ])('%s may ask for the log and for new firmware, and for nothing else', (told, words) => {
    for (const request of oneOfEach()) {
      const board = new Conversation();
      if (told === 'that said which')
        board.say({ type: 'hello', id: 1, protocol: 99, schemaHash: '00000000', hostVersion: 'x' });
      expect([request.type, isRefused(board.say(request), words)]).toEqual([
        request.type,
        !ANY_VERSION.includes(request.type),
      ]);
      expect(request.type in messages).toBe(true);
    }
  });
});

describe('a flash that the next firmware wrote', () => {
  /** What tells how things stand, and touches no flash. */
  const WITHOUT_FLASH: readonly MessageType[] = ['ping', 'diagnose', 'make-way', 'get-setting', 'watch'];

  /** Its format stands in the last sector of the log, the tally or the shelf that was written. */
  function writtenByNext(magic: string): Flash {
    const board = Conversation.greeted();
    for (const message of recipeUpload('slipway', 8000)) board.say(message);
    const { flash } = board;
    const offsets = Array.from(
      { length: flash.size / limits.sectorBytes },
      (_, at) => at * limits.sectorBytes,
    );
    const last = offsets.filter((offset) => Buffer.from(flash.read(offset, 4)).toString() === magic).at(-1)!;
    const next = storageFormat + 1;
    const bytes = Buffer.from(flash.read(last, limits.sectorBytes));
    bytes.set([next, 0xff ^ next], 12);
    flash.erase(last);
    for (let page = 0; page < limits.sectorBytes; page += limits.pageBytes)
      flash.program(last + page, bytes.subarray(page, page + limits.pageBytes));
    return flash;
  }

  it.each(['Log1', 'Tly1', 'Shf1'])(
    'by a sector of %s, is not written to, whatever is asked, and the refusal names it',
    (magic) => {
      const flash = writtenByNext(magic);
      const { operations } = flash;
      const board = new Conversation(flash);
      board.hello();
      for (const request of oneOfEach().filter(({ type }) => type !== 'hello')) {
        const refused = isRefused(board.say(request), new RegExp(`flash format ${storageFormat + 1}`));
        expect([request.type, refused]).toEqual([request.type, !WITHOUT_FLASH.includes(request.type)]);
      }
      expect(flash.operations).toBe(operations);
      expect(board.lampStarts).toBe(0);
    },
  );
});
