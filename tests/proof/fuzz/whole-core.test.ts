import { describe, expect, it } from 'vitest';
import { encodeLine, messages, messageTypes } from '../../../shared-protocol/index.js';
import { Conversation } from '../../firmware/core/session/conversation.js';
import { Random } from '../../setup/random.js';
import { damagedLine } from './damage-line.js';
import { randomMessage } from './random-message.js';

const LINES = 15_000;
const LINES_A_TALK = 500;
const requests = messageTypes.filter((type) => messages[type].role === 'request');

/** A request as it is, or damaged so that it is almost one; some cut off, some glued to the next. */
function anyLine(random: Random): string {
  const line = encodeLine(randomMessage(random, requests)).slice(0, -1);
  const sent = random.chance(0.4)
    ? line
    : damagedLine(random, line, encodeLine(randomMessage(random)).slice(0, -1));
  return sent + random.pick(['\n', '\n', '\n', '\r\n', '']);
}

/** After a newline, which ends whatever was half said, a hello is understood. */
function expectGreeting(core: Conversation, id: number, where: string): void {
  core.raw('\n');
  core.settle();
  expect(core.hello(id).at(-1), where).toMatchObject({ type: 'welcome', id });
}

describe(`the whole core, told ${LINES} lines that are requests or almost`, () => {
  it('never traps, lights nothing, answers in good lines, and answers the next good line every time', () => {
    for (let talk = 0; talk < LINES / LINES_A_TALK; talk++) {
      const random = new Random(talk + 1);
      const core = new Conversation();
      core.hello();
      for (let count = 0; count < LINES_A_TALK; count++) {
        const line = anyLine(random);
        core.raw(line);
        core.settle();
        if (random.chance(0.02)) expectGreeting(core, 1 + random.below(0xffff), `talk ${talk}`);
      }
      expectGreeting(core, 7, `talk ${talk}`);
      expect(core.lampStarts, `talk ${talk}`).toBe(0);
    }
  });
});
