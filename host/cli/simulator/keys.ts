/**
 * What the keys of the simulated board do. A terminal tells of keys pressed and never of keys released, so a tap,
 * a hold and a pedal that stays down have a key each.
 */
export type Act =
  | 'tap'
  | 'hold'
  | 'press-release'
  | 'turn-left'
  | 'turn-right'
  | 'push'
  | 'push-hold'
  | 'power'
  | 'quit';

const keys: Readonly<Record<string, Act>> = {
  ' ': 'tap',
  h: 'hold',
  p: 'press-release',
  '\u001b[D': 'turn-left',
  '\u001b[C': 'turn-right',
  '[': 'turn-left',
  ']': 'turn-right',
  '\r': 'push',
  '\n': 'push',
  b: 'push-hold',
  o: 'power',
  q: 'quit',
  '\u0003': 'quit',
  '\u0004': 'quit',
};

export const keyHelp = [
  'space  tap the pedal              enter  push the knob',
  'h      hold the pedal             b      hold the knob',
  'p      pedal down, and up again   <- ->  turn the knob (also [ and ])',
  'o      power off, and on again    q      end',
].join('\n');

/** The same for a small terminal. */
export const shortKeyHelp = ['space tap, h hold', '[ ] turn, enter push', 'q end'];

/** Every act in a piece of input, which may hold several keys; keys that mean nothing are passed over. */
export function actsIn(input: string): Act[] {
  const acts: Act[] = [];
  for (let at = 0; at < input.length; ) {
    const length = input.startsWith('\u001b[', at) ? 3 : 1;
    const act = keys[input.slice(at, at + length)];
    if (act !== undefined) acts.push(act);
    at += length;
  }
  return acts;
}
