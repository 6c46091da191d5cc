/** What a foot, a hand at the knob and noise on the line do in an evening that nobody planned. */
import type { Random } from '../../../setup/random.js';
import { boathouse } from './boathouse.js';
import type { EveningBench } from './evening-bench.js';

/** Every kind of work at which light, or a bath, is given. */
export const works = [
  'strip',
  'recipe',
  'bracket',
  'process',
  'safelight-test',
  'stray-light-test',
  'lamp-test',
  'plain',
] as const;

/** The longest that the board times by itself. */
const A_WHOLE_STEP_US = 421_000_000;

function anyTimeUs(random: Random): number {
  if (random.chance(0.005)) return A_WHOLE_STEP_US;
  return random.below(random.pick([100, 1000, 30_000, 300_000, 1_500_000, 12_000_000]));
}

/** What the evening is spent on, as a laptop may choose it; the knob goes on from there. */
export function anyWork(bench: EveningBench, random: Random): void {
  if (random.chance(0.7)) bench.print(boathouse);
  bench.ask({ type: 'set-setting', id: 0, name: 'bath-follows', value: random.below(2) });
  bench.ask({ type: 'set-setting', id: 0, name: 'safe-minutes', value: random.below(4) - 1 });
  const job = random.pick(works);
  bench.ask({ type: 'choose', id: 0, job, name: job === 'recipe' ? boathouse.name : '' });
}

/** A printer who knows what they want, so that sheets are finished and read now and then. */
export function anyGesture(bench: EveningBench, random: Random): void {
  switch (random.below(20)) {
    case 0:
      bench.hold();
      break;
    case 1:
      bench.turn(random.below(5) - 2);
      break;
    case 2:
      bench.push();
      break;
    default:
      bench.board.pedal(false);
      bench.tap();
      bench.seconds(random.below(40));
  }
}

export function anyEvent(bench: EveningBench, random: Random): void {
  switch (random.below(8)) {
    case 0:
    case 1:
    case 2:
      bench.board.pedal(random.chance(0.5));
      break;
    case 3:
      bench.board.knobPush(random.chance(0.5));
      break;
    case 4:
      bench.board.knobTurn(random.below(7) - 3);
      break;
    case 5:
      bench.noise(random.bytes(1 + random.below(20)));
      break;
    default:
      bench.board.advanceUs(anyTimeUs(random));
  }
}
