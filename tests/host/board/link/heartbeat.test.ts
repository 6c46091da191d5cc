import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { Talk } from './talk.js';

/** After so long without a byte from it a board takes another cable's laptop for its own. */
function boardWaitsMs(): number {
  const text = readFileSync(`${projectRoot}/firmware/board/devices/serial.c`, 'utf8');
  return Number(/SILENT_US = (\d+)/.exec(text)![1]) / 1000;
}

// A laptop that watched a busy evening said nothing itself, since all that it heard counted as a sign of life: after 8 s a
// laptop at the board's other cable could take its turn.
it.each([0, 1000])(
  'a laptop never keeps silent for as long as a board waits, hearing something every %i ms',
  async (everyMs) => {
    const talk = new Talk();
    const saidAtMs: number[] = [];
    talk.peer.answer = () => {
      saidAtMs.push(talk.clock.nowMs());
      return undefined;
    };
    const board = await talk.open({ setClock: false });
    const untilMs = talk.clock.nowMs() + 60_000;
    while (talk.clock.nowMs() < untilMs) {
      if (everyMs > 0) talk.peer.tell({ type: 'shown', row: 0, text: 'Tap start' });
      await talk.pass(everyMs || 1000);
    }
    const gapsMs = saidAtMs.slice(1).map((atMs, at) => atMs - saidAtMs[at]!);
    expect(saidAtMs.length).toBeGreaterThan(5);
    expect(untilMs - saidAtMs.at(-1)!).toBeLessThan(boardWaitsMs());
    expect(Math.max(...gapsMs)).toBeLessThan(boardWaitsMs());
    await board.close();
  },
);

it.each([500, 1500, 2500, 3500, 4500])(
  'nor where it last asked for something %i ms after it came',
  async (afterMs) => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    await talk.pass(afterMs);
    await talk.over(board.status());
    const saidBefore = talk.peer.heard.length;
    await talk.pass(boardWaitsMs() - 1);
    expect(talk.peer.heard.length).toBeGreaterThan(saidBefore);
    await board.close();
  },
);

it('a board that falls silent is told of within a second of the answer that did not come, and so is that it speaks again', async () => {
  const talk = new Talk();
  const board = await talk.open({ setClock: false, timing: { heartbeatMs: 2000 } });
  const told: number[] = [];
  board.onSilence((silentMs) => told.push(silentMs));
  await talk.pass(10_000);
  expect(told).toEqual([]);
  const answer = talk.peer.answer;
  talk.peer.answer = () => [];
  const silentMs = talk.clock.nowMs();
  while (told.length === 0) await talk.pass(100);
  expect(talk.clock.nowMs() - silentMs).toBeLessThanOrEqual(3100);
  talk.peer.answer = answer;
  talk.peer.tell({ type: 'shown', row: 0, text: 'Tap start' });
  await talk.pass(1);
  await talk.pass(10_000);
  // What was asked meanwhile goes once more, after another second; then all is as it was.
  expect(told).toEqual([3000, 0, 1000, 0]);
  await board.close();
});
