import { type Candidate, coarseCandidates } from './coarse-search.js';
import { FineSearch } from './fine-search.js';
import type { Placement } from './placement.js';
import { madeSmall, type Tones } from './tones.js';

export interface Registration {
  readonly placement: Placement;
  /** Share of the strip's slopes that go the way of the negative's, from -1 to 1. */
  readonly likeness: number;
  /** That of the next best place elsewhere. */
  readonly runnerUp: number;
}

/**
 * How many are made better at each size, in pixels of the strip's longer side, by how many of its places and to how much of
 * a pixel. The smaller the size, the more wrong places look as good as the true one.
 */
const SIZES = [
  { pixels: 96, candidates: 40, points: 1200, finestPixels: 0.2 },
  { pixels: 256, candidates: 8, points: 3000, finestPixels: 0.03 },
] as const;
const FINEST_PIXELS = SIZES[1].pixels;

/**
 * Finds a strip on its negative: mirrored or not, turned by quarters and some degrees, shifted, and of any scale from a fifth
 * of the frame to all of it. Both as tones, the larger the darker on the print, so the paper's curve need not be known.
 */
export function register(strip: Tones, negative: Tones): Registration {
  const fine = madeSmall(strip, 2 * FINEST_PIXELS);
  const found = SIZES.reduce(
    (rough, size) => {
      const search = new FineSearch(fine, negative, size);
      return bestOf(rough, size.candidates).map((each) => search.refined(each));
    },
    coarseCandidates(fine, madeSmall(negative, 400)),
  );
  const [first, ...others] = found.sort((one, other) => other.likeness - one.likeness);
  const elsewhere = others.find(({ placement }) => !isAlike(placement, first!.placement));
  return { ...first!, runnerUp: elsewhere?.likeness ?? 0 };
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
