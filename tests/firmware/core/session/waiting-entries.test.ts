import { expect, it } from 'vitest';
import { encodeLine, type Message } from '../../../../shared-protocol/index.js';
import { Random } from '../../../setup/random.js';
import { Conversation, readAll } from './conversation.js';

/** Entries come faster than the flash takes them, again and again, so that whatever keeps them waiting goes round. */
it.each([1, 2, 3])(
  'entries that wait for the flash are kept in the order in which they came, each that was taken once (seed %i)',
  (seed) => {
    const random = new Random(seed);
    const board = Conversation.greeted();
    const taken: number[] = [];
    let id = 1000;
    let lost = 0;
    for (let burst = 0; burst < 40; burst++) {
      for (let left = random.between(1, 14); left > 0; left--) {
        const epochMs = 1_800_000_000_000 + ++id;
        const [answer] = readAll(board.raw(encodeLine({ type: 'set-clock', id, epochMs })));
        if (answer?.type === 'ok') taken.push(epochMs);
        else lost++;
      }
      board.settle();
    }
    const log: Message[] = [];
    for (let fromSeq = 1; ; ) {
      const said = board.say({ type: 'collect', id: ++id, fromSeq, count: 64 });
      log.push(...said.filter((line) => line.type === 'clock'));
      const end = said.at(-1)!;
      if (end.type !== 'collected' || end.nextSeq >= end.endSeq) break;
      fromSeq = end.nextSeq;
    }
    expect(log.map((line) => line.type === 'clock' && line.epochMs)).toEqual(taken);
    expect(lost).toBeGreaterThan(0);
    expect(board.say({ type: 'diagnose', id: ++id })).toMatchObject([{ entriesLost: lost }]);
  },
);
