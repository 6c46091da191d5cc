import type { Random } from '../../setup/random.js';
import { type Noise, silence } from './faulty-wire.js';
import type { BoardKind } from './world-board.js';

/** What can go wrong in a world beside the noise on the line. */
export const faultKinds = [
  'cable pulled',
  'power cut',
  'power cut inside a flash operation',
  'board reset',
  'program killed',
  'disk full',
  'sector worn out',
  'babble on the line',
  'laptop clock set',
  'archive rots',
] as const;
/** What else can go wrong over USB, where noise cannot. */
const usbFaultKinds = ['port reset', 'laptop asleep', 'port closed in mid-line'] as const;
export type FaultKind = (typeof faultKinds)[number] | (typeof usbFaultKinds)[number];

/** What a world is like: drawn from its seed, so that some are calm, some noisy, and some have everything at once. */
export interface Climate {
  readonly noise: Noise;
  readonly kinds: readonly FaultKind[];
  /** Mean time between two faults of those kinds. */
  readonly faultEveryMs: number;
  /** The share of the printer's gestures that are made with the knob. */
  readonly knobShare: number;
  /** The program begins by making everything ready, so that few presses lead to light on paper. */
  readonly prepared: boolean;
  /** How long the board lies at rest, its power on, before each part of the evening's work. */
  readonly restsMs: readonly number[];
}

const DAY_MS = 86_400_000;
const UPTIME_SPAN_MS = 2 ** 32;

/** Mostly none; else up to where the board's count of milliseconds begins anew while somebody works, or for weeks. */
function drawRests(random: Random): number[] {
  if (random.chance(0.8)) return [0];
  const nearlyRoundMs = () => UPTIME_SPAN_MS - random.below(8_000);
  const weeksMs = () => random.between(DAY_MS, 100 * DAY_MS);
  return random.pick([[nearlyRoundMs()], [0, nearlyRoundMs()], [0, weeksMs()], [weeksMs(), weeksMs()]]);
}

export function drawClimate(random: Random, kind: BoardKind['name']): Climate {
  const level = random.pick([0, 0, 1e-5, 1e-4, 1e-3]);
  const part = () => (random.chance(0.6) ? level : 0);
  return {
    noise:
      level === 0
        ? silence
        : { flipped: part() * 8, dropped: part(), doubled: part(), joined: part() * 10, delayed: part() },
    kinds: [
      ...faultKinds.filter((each) => random.chance(each === 'sector worn out' ? 0.05 : 0.35)),
      ...(kind === 'usb' ? usbFaultKinds.filter(() => random.chance(0.5)) : []),
    ],
    faultEveryMs: random.pick([1_000, 2_500, 6_000]),
    knobShare: random.pick([0, 0, 0.2, 0.5]),
    prepared: random.chance(0.6),
    restsMs: drawRests(random),
  };
}
