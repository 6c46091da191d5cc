import { expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { boathouse } from '../evening/boathouse.js';
import { EveningBench } from '../evening/evening-bench.js';
import { Conversation } from '../session/conversation.js';

it('a pedal that is held for long puts the light out, says so, and means nothing until it was let go', () => {
  const bench = new EveningBench();
  bench.board.pedal(true);
  bench.seconds(60);
  expect(bench.board.lampOn).toBe(false);
  expect(bench.panel).toEqual([
    'Let go of the pedal',
    'Pedal held too long',
    'or stuck.',
    'The lamp is off.',
  ]);
  bench.board.pedal(false);
  bench.seconds(1);
  expect(bench.board.lampOn).toBe(false);
  expect(bench.panel[0]).toMatch(/Hold focus$|^Stopped down/);
});

it.each([0n, 49_000n, 300_000n, 5_000_000n])(
  'a pedal that is down from the start is no press, also where the core starts %i us after power-up',
  (bootUs) => {
    const board = new Conversation(new Flash(), bootUs);
    board.happens((core) => core.pedalEdge(1, bootUs + 2n));
    // A hold, where it were one, would light the lamp for focusing.
    for (const afterUs of [30_000n, 900_000n]) {
      board.happens((core) => core.deadline(bootUs + afterUs));
      board.settle(bootUs + afterUs);
    }
    expect(board.told.findLast((told) => told.startsWith('row 0'))).toContain('Let go of the pedal');
    expect(board.lampStarts).toBe(0);
  },
);

it('nothing is timed any more while the pedal sticks', () => {
  const bench = new EveningBench();
  bench.greet();
  for (const name of ['lens-check', 'confirm-filter', 'pause-for-dodges'] as const)
    bench.ask({ type: 'set-setting', id: 0, name, value: 0 });
  bench.print({ ...boathouse, baseMs: 600_000 });
  bench.tap();
  bench.tap();
  bench.seconds(2);
  expect(bench.board.lampOn).toBe(true);
  bench.board.pedal(true);
  bench.seconds(20);
  expect(bench.panel[0]).toBe('Let go of the pedal');
  expect(bench.board.timeline.nextUs).toBeUndefined();
});
