import { expect, it } from 'vitest';
import { EveningBench } from '../evening/evening-bench.js';

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
