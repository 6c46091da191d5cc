import { describe, expect, it } from 'vitest';
import { encodeLine, type Message, type MessageOf } from '../../../../shared-protocol/index.js';
import { linkFault } from '../../../../shared-protocol/schema.js';
import { Random } from '../../../setup/random.js';
import { Conversation, recipeUpload } from './conversation.js';

const status = (board: Conversation) =>
  board.say({ type: 'ping', id: board.nextId++ })[0] as MessageOf<'status'>;
const counters = (board: Conversation) =>
  board.say({ type: 'diagnose', id: board.nextId++ })[0] as MessageOf<'counters'>;

/** Lines that go wrong, each in one way, and what a board should count of it. */
const troubles: Readonly<Record<string, (board: Conversation, id: number) => void>> = {
  badLines: (board) => void board.raw('no line at all\n'),
  badCrcs: (board) => void board.raw('["ping",5,"00000000"]\n'),
  longLines: (board) => void board.raw(`["ping",5,${'0'.repeat(300)}\n`),
  repeats: (board, id) => {
    const line = encodeLine({ type: 'ping', id });
    board.raw(line);
    board.raw(line);
  },
  refusals: (board, id) => void board.raw(encodeLine({ type: 'recipe-remove', id, name: 'nowhere' })),
};

describe('the counters', () => {
  it('have of each trouble as much as there was, in whatever order, and nothing at first', () => {
    const random = new Random(1);
    const board = Conversation.greeted();
    const were = counters(board);
    for (const name of Object.keys(troubles)) expect(were, name).toMatchObject({ [name]: 0 });
    const counts: Record<string, number> = {};
    for (let id = 1000; id < 1060; id++) {
      const name = random.pick(Object.keys(troubles));
      troubles[name]!(board, id);
      counts[name] = (counts[name] ?? 0) + 1;
    }
    // A line that is too long is none; each of these is answered by a refusal.
    const { badLines = 0, badCrcs = 0, longLines = 0, refusals = 0 } = counts;
    expect(counters(board)).toMatchObject({
      ...counts,
      badLines: badLines + longLines,
      refusals: refusals + badLines + longLines + badCrcs,
    });
  });

  it('tell of each fault of the line what the board layer counted', () => {
    const { overruns, framingErrors, breaks, lostInRing } = counters(Conversation.greeted());
    const counted = (fault: string) => 100 + linkFault.options.indexOf(fault as never);
    expect([overruns, framingErrors, breaks, lostInRing]).toEqual(
      ['overrun', 'framing', 'break', 'lost-in-ring'].map(counted),
    );
  });
});

describe('the status', () => {
  it('counts the recipes that are listed, and nothing else on the shelf', () => {
    const board = Conversation.greeted();
    const set: Message = { type: 'name-set', id: 9, name: 'cellar' };
    const times = { resinCoatedSeconds: 60, fibreSeconds: 60, drainSeconds: 0, agitationSeconds: 20 };
    board.say(set);
    board.say({ type: 'bath-set', id: 10, bath: 1, baths: 1, label: 'developer', ...times, limitCm2: 0 });
    const names = ['jetty', 'slipway', 'weir'];
    for (const [at, name] of names.entries()) {
      expect(status(board).recipes).toBe(at);
      for (const message of recipeUpload(name, 8000, 1000 + 10 * at)) board.say(message);
    }
    for (const [at, name] of names.entries()) {
      expect(status(board).recipes).toBe(names.length - at);
      board.say({ type: 'recipe-remove', id: 2000 + at, name });
    }
    expect(status(board).recipes).toBe(0);
  });

  it('has room for fewer entries with each that comes, never fewer than go in, and for as many as ever once they are forgotten', () => {
    const board = Conversation.greeted();
    const log = (id: number) => board.say({ type: 'set-clock', id, epochMs: 1_800_000_000_000 + id });
    const atFirst = status(board);
    let before = atFirst;
    for (let id = 1000; id < 1200; id++) {
      log(id);
      const now = status(board);
      expect(now.nextSeq).toBe(before.nextSeq + 1);
      expect(now.entriesLeft).toBeLessThanOrEqual(before.entriesLeft);
      expect(now.entriesLeft).toBeGreaterThanOrEqual(before.entriesLeft - 1);
      before = now;
    }
    expect(before.entriesLeft).toBeLessThan(atFirst.entriesLeft);
    board.say({ type: 'forget', id: 2000, uptoSeq: before.nextSeq - 1 });
    expect(status(board)).toMatchObject({ oldestSeq: before.nextSeq });
    expect(status(board).entriesLeft).toBeGreaterThan(before.entriesLeft);
  });
});
