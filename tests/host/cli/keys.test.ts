import { describe, expect, it } from 'vitest';
import { actsIn } from '../../../host/cli/simulator/keys.js';

describe('the keys of the simulated board', () => {
  it('are told apart in one piece of input', () => {
    expect(actsIn(' h\u001b[D\u001b[C\rq')).toEqual([
      'tap',
      'hold',
      'turn-left',
      'turn-right',
      'push',
      'quit',
    ]);
  });

  it('pass over what means nothing', () => {
    expect(actsIn('xyz\u001b[A ')).toEqual(['tap']);
  });

  it('end on the keys that end everything else', () => {
    expect(actsIn('\u0003')).toEqual(['quit']);
    expect(actsIn('\u0004')).toEqual(['quit']);
  });
});
