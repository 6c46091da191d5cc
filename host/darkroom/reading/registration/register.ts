import { type Candidate, coarseCandidates } from './coarse-search.js';
import { refined } from './fine-search.js';
import type { Placement } from './placement.js';
import { madeSmall, type Tones } from './tones.js';

export interface Registration {
  readonly placement: Placement;
  /** Share of the strip's slopes that go the way of the negative's, from -1 to 1. */
  readonly likeness: number;
  /** That of the next best place elsewhere. */
  readonly runnerUp: number;
}

/** Tried at the smallest size; half as many at each larger one. */
const CANDIDATES = 16;
const PIXELS = [64, 128, 256] as const;

/**
 * Finds a strip on its negative: mirrored or not, turned by quarters and some degrees, shifted, and of any scale from a fifth
 * of the frame to all of it. Both as tones, the larger the darker on the print, so the paper's curve need not be known.
 */
export function register(strip: Tones, negative: Tones): Registration {
  const fine = madeSmall(strip, 2 * PIXELS[2]);
  const { whole, withoutCommon } = coarseCandidates(fine, madeSmall(negative, 400));
  const rough = [...bestOf(whole, CANDIDATES / 2), ...bestOf(withoutCommon, CANDIDATES / 2)];
  const better = PIXELS.slice(0, 2).reduce(
    (candidates, pixels, at) =>
      bestOf(
        candidates.map((each) => refined(fine, negative, pixels, each)),
        CANDIDATES >> (at + 1),
      ),
    rough,
  );
  const [first, ...others] = better;
  const runnerUp = others.find(({ placement }) => !isAlike(placement, first!.placement))?.likeness ?? 0;
  return { ...refined(fine, negative, PIXELS[2], first!), runnerUp };
}

/** The likeliest, few of each place. */
function bestOf(candidates: readonly Candidate[], count: number): Candidate[] {
  const kept: Candidate[] = [];
  for (const candidate of [...candidates].sort((one, other) => other.likeness - one.likeness)) {
    if (kept.length === count) break;
    const near = kept.filter(({ placement }) => isAlike(placement, candidate.placement));
    if (near.length < 2) kept.push(candidate);
  }
  return kept;
}

function isAlike(one: Placement, other: Placement): boolean {
  const turn = Math.abs(Math.sin((one.turnRadians - other.turnRadians) / 2));
  return (
    one.mirrored === other.mirrored &&
    turn < 0.1 &&
    Math.abs(Math.log(one.scale / other.scale)) < 0.15 &&
    Math.hypot(one.shiftX - other.shiftX, one.shiftY - other.shiftY) < 0.08
  );
}
