import { expect, it } from 'vitest';
import { encodeLine, protocolVersion, schemaHash } from '../../../../shared-protocol/index.js';
import { EveningBench } from '../evening/evening-bench.js';
import { Conversation, recipeUpload } from './conversation.js';

it('a request that waits for the flash is known again after any number of others, and is carried out once', () => {
  const board = Conversation.greeted();
  const waits = encodeLine({ type: 'set-setting', id: 9, name: 'lamp-lag-ms', value: 120 });
  board.raw(waits);
  for (let id = 100; id < 112; id++) {
    board.raw(encodeLine({ type: 'get-setting', id, name: 'tone-volume' }));
    expect(board.raw(waits), `after ${id - 99} others`).toBe('');
  }
  expect(board.later()).toMatchObject([{ type: 'setting', id: 9, value: 120 }]);
});

it('a list that was being read out is not gone on with in a new conversation', () => {
  const board = Conversation.greeted();
  for (const part of recipeUpload('slipway', 8000)) board.say(part);
  for (const list of [
    { type: 'collect', id: 5, fromSeq: 1, count: 9 },
    { type: 'recipe-list', id: 5 },
    { type: 'recipe-get', id: 5, name: 'slipway' },
  ] as const) {
    board.roomBytes = 0;
    board.raw(encodeLine(list));
    board.raw(
      encodeLine({ type: 'hello', id: 1, protocol: protocolVersion, schemaHash, hostVersion: 'test' }),
    );
    expect(board.drain().map(({ type, id }) => [type, id])).toEqual([['welcome', 1]]);
  }
});

it('a laptop is told how long the board has been up', () => {
  const bench = new EveningBench();
  bench.seconds(3000);
  for (const request of [
    { type: 'hello', id: 0, protocol: protocolVersion, schemaHash, hostVersion: 'test' },
    { type: 'ping', id: 0 },
  ] as const) {
    const beforeMs = Math.floor(bench.board.nowUs / 1000);
    const [told] = bench.ask(request);
    expect(told).toHaveProperty('uptimeMs');
    const { uptimeMs } = told as { uptimeMs: number };
    expect(uptimeMs).toBeGreaterThanOrEqual(beforeMs);
    expect(uptimeMs).toBeLessThanOrEqual(bench.board.nowUs / 1000);
  }
});
