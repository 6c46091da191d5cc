import { proveDoses } from '../dose/prove-doses.js';
import { type Section, thousands } from './page.js';

const SEED = 1;
/** Ten million take the better part of an hour. */
const PLANS = Number(process.env.TREADLE_DOSES ?? 100_000);

/** The light that the core's relay times give, against base x 2^(n/120), in numbers that do not round. */
export function doseProof(): Section {
  const { kinds, beyond } = proveDoses(PLANS, SEED);
  for (const words of beyond.slice(0, 20)) console.error(words);
  if (beyond.length > 0) process.exitCode = 1;
  return {
    title: 'Light given and its true value, between exact bounds',
    about:
      `${thousands(PLANS)} plans (TREADLE_DOSES; seed ${SEED}): every offset from -5 to +5 stops in turn, bases of 0.1 to 600 s, ` +
      'up to 16 pieces or 12 patches, any lamp that the settings allow, pulses cut short anywhere; each area of the paper ' +
      "by the lamp's own equation. Refused: light that the lamp cannot give, or above an hour. Goal: none beyond 1 ms and " +
      '2^-20 of the light (half a millisecond more for each rest too short to be given).',
    columns: ['plans', 'plans', 'refused rightly', 'areas', 'most pieces', 'farthest off', 'where'],
    rows: [
      ...[...kinds].map(([kind, { plans, refused, areas, mostPieces, worstMs, asked }]) => [
        kind,
        plans,
        refused,
        areas,
        mostPieces,
        `${worstMs.toFixed(6)} ms`,
        asked,
      ]),
      ['beyond the goal', beyond.length, '', '', '', '', beyond[0] ?? ''],
    ],
  };
}
