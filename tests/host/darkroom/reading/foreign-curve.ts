import type { Random } from '../../../setup/random.js';

/** Shares of the deepest black by curves that are not the project's own: long toes, long shoulders, hard and soft corners. */
const shapes: Readonly<Record<string, (u: number) => number>> = {
  tanh: (u) => 0.5 * (1 + Math.tanh(u)),
  'long shoulder (Gompertz)': (u) => Math.exp(-Math.exp(-u)),
  'long toe': (u) => 1 - Math.exp(-Math.exp(u)),
  'hard corners': (u) => corners(u, 0.07),
  'soft corners': (u) => corners(u, 0.25),
};

function corners(u: number, width: number): number {
  const soft = (x: number) => Math.max(x, 0) + Math.log1p(Math.exp(-Math.abs(x)));
  return width * (soft(u / width) - soft((u - 1) / width));
}

/** Density above white for a log exposure from that of 0.60, and the range by ISO 6846's points (0.04 and 90 % of the net maximum). */
export function foreignCurve(random: Random, rangeR: number): (logExposure: number) => number {
  const shareAt = shapes[random.pick(Object.keys(shapes))]!;
  const black = 1.95 + 0.2 * random.share();
  const [atT, atM, atS] = [0.04 / black, 0.6 / black, 0.9].map((share) => placeOf(shareAt, share)) as [
    number,
    number,
    number,
  ];
  const steepness = (atS - atT) / (rangeR / 100);
  return (logExposure) => black * shareAt(atM + steepness * logExposure);
}

function placeOf(rising: (u: number) => number, share: number): number {
  let [low, high] = [-40, 40];
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (rising(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
