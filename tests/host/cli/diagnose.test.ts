import { describe, expect, it } from 'vitest';
import { askBoard } from '../../../host/cli/commands/diagnose.js';
import type { MessageOf } from '../../../shared-protocol/index.js';
import { Talk } from '../board/link/talk.js';

/** What comes of so many questions to a board that lets each wait so long. */
async function asked(questions: number, eachMs: number) {
  const talk = new Talk();
  const board = await talk.open();
  talk.peer.answer = ({ type, id }) => {
    if (type === 'diagnose') return [{ type: 'counters', ...noTrouble }];
    if (type !== 'ping') return undefined;
    talk.clock.after(eachMs, () => talk.peer.tell(calm, id));
    return [];
  };
  const found = await talk.over(askBoard(board, questions));
  await board.close();
  return found;
}

const calm: Omit<MessageOf<'status'>, 'id'> = {
  ...{ type: 'status', state: 'rest', job: 'none', name: '', lensConfirmed: false, pedalStuck: false },
  ...{ oldestSeq: 1, nextSeq: 1, entriesLeft: 4000, recipes: 0, boot: 7, uptimeMs: 2000 },
};
const noTrouble = {
  ...{ badLines: 0, badCrcs: 0, longLines: 0, repeats: 0, refusals: 0, noticesDropped: 0 },
  ...{ overruns: 0, framingErrors: 0, breaks: 0, lostInRing: 0, entriesLost: 0 },
};

describe('diagnose', () => {
  it('asks a board that answers in its usual time all that it is to ask', async () => {
    expect(await asked(400, 15)).toMatchObject({ asked: 400 });
  });

  // Ten thousand questions to a board that takes half a second for each would have been an hour and a half.
  it('ends when a board answers slowly: ten seconds and a tenth for each question, and not another one', async () => {
    const { asked: count, tookMs } = await asked(1000, 500);
    expect(tookMs).toBeGreaterThanOrEqual(110_000);
    expect(tookMs).toBeLessThanOrEqual(110_500);
    expect(count).toBe(220);
  });
});
