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

const CANDIDATES = 8;
const PIXELS = [64, 128, 256] as const;

/**
 * Finds a strip on its negative: mirrored or not, turned by quarters and some degrees, shifted, and of any scale from a fifth
 * of the frame to all of it. Both as tones, the larger the darker on the print, so the paper's curve need not be known.
 */
export function register(strip: Tones, negative: Tones): Registration {
  const fine = madeSmall(strip, 2 * PIXELS[2]);
  const candidates = differing(coarseCandidates(fine, madeSmall(negative, 400)))
    .map((candidate) => refined(fine, negative, PIXELS[0], candidate))
    .sort((one, other) => other.likeness - one.likeness);
  const [first, ...others] = candidates;
  const runnerUp = others.find(({ placement }) => !isAlike(placement, first!.placement))?.likeness ?? 0;
  const best = PIXELS.slice(1).reduce((from, pixels) => refined(fine, negative, pixels, from), first!);
  return { ...best, runnerUp };
}

/** The likeliest of each place. */
function differing(candidates: readonly Candidate[]): Candidate[] {
  const kept: Candidate[] = [];
  for (const candidate of candidates) {
    if (kept.length === CANDIDATES) break;
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
