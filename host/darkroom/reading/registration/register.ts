import { type Candidate, coarseCandidates } from './coarse-search.js';
import { FineSearch, type FineSize } from './fine-search.js';
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
/** For strips that show little of which no other place of the frame has the like: the true place is far down the list of rough ones. */
const WIDER_SIZES = [
  { pixels: 96, candidates: 160, points: 600, finestPixels: 0.4 },
  { pixels: 256, candidates: 40, points: 800, finestPixels: 0.4 },
  { pixels: 256, candidates: 4, points: 3000, finestPixels: 0.03 },
] as const;
const FINEST_PIXELS = SIZES[1].pixels;

/** Of the strip's slopes, less than this goes the way of any other negative's; another frame of the same subject comes near it. */
export const LEAST_LIKENESS = 0.53;

/**
 * Finds a strip on its negative: mirrored or not, turned by quarters and some degrees, shifted, and of any scale from a fifth
 * of the frame to all of it. Both as tones, the larger the darker on the print, so the paper's curve need not be known. Where that
 * finds nothing that is like enough, more places are looked at.
 */
export function register(strip: Tones, negative: Tones): Registration {
  const fine = madeSmall(strip, 2 * FINEST_PIXELS);
  const rough = coarseCandidates(fine, madeSmall(negative, 400));
  const found = likeliest(fine, negative, rough, SIZES);
  return found.likeness >= LEAST_LIKENESS ? found : likeliest(fine, negative, rough, WIDER_SIZES);
}

function likeliest(
  strip: Tones,
  negative: Tones,
  rough: readonly Candidate[],
  sizes: readonly (FineSize & { readonly candidates: number })[],
): Registration {
  const found = sizes.reduce((better, size) => {
    const search = new FineSearch(strip, negative, size);
    return bestOf(better, size.candidates).map((each) => search.refined(each));
  }, rough);
  const [first, ...others] = [...found].sort((one, other) => other.likeness - one.likeness);
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
