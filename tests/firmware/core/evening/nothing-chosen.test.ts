import { expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';

it('with nothing chosen the panel sends to the knob, and the knob finds something to start', () => {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'choose', id: 0, job: 'none', name: '' });
  expect(bench.panel[3]).toBe('Choose with the knob');
  bench.board.knobTurn(1);
  bench.seconds(1);
  expect(bench.panel[2]).toBe('6 patches, 1 st');
  expect(bench.panel[3]).toBe('');
});
