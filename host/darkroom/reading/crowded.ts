import type { PatchPlace } from './patch-tones.js';

/** A step from patch to patch that nobody would miss. */
const SEEN_STEP = 0.04;
/** So much of a patch's width may be lacking from a stretch of patches that look alike, hands being what they are. */
const LACKING = 0.35;

/**
 * Whether patches that look alike, all white or all black, lie closer than the others: there are fewer on the strip than was said, and
 * one was taken for two.
 * @param densities above white, of as many patches as `places`.
 */
export function isCrowded(places: readonly PatchPlace[], densities: readonly number[]): boolean {
  const stretches = stretchesOf(densities).map(({ from, to }) => ({
    patches: to - from,
    width: places[to - 1]!.right - places[from]!.left,
  }));
  const single = stretches.filter(({ patches }) => patches === 1).map(({ width }) => width);
  const usual = middleOf(
    single.length >= 2 ? single : stretches.map(({ patches, width }) => width / patches),
  );
  return stretches.some(({ patches, width }) => patches > 1 && width < (patches - LACKING) * usual);
}

/** Between edges that can be seen. */
function stretchesOf(densities: readonly number[]): { from: number; to: number }[] {
  const seen = densities.flatMap((density, at) =>
    at > 0 && density - densities[at - 1]! >= SEEN_STEP ? [at] : [],
  );
  const edges = [0, ...seen, densities.length];
  return edges.slice(1).map((to, at) => ({ from: edges[at]!, to }));
}

function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}
