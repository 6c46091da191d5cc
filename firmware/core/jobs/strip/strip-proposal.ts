/**
 * What the next strip should be, from what was read on the last one. A first strip goes by whole stops; once a
 * patch is right, tenths of a stop about it find the base to a twelfth, so two strips do. Sixths would do for perfect
 * eyes only: half-way between two of them either is a twelfth off, and the least misreading takes the wrong one. Where
 * all is too dark or too light, the next strip is of the same steps and begins or ends with the patch that was nearest.
 */
import { minimumDoseMs } from '../../arithmetic/lamp';
import { NO_DOSE, stopsBetween120, timeAtStopsMs } from '../../arithmetic/stops';
import { OFFSET_STOPS120, STRIP_PATCHES, Verdict } from '../../generated/constants';
import { patchMs } from './strip-plan';

/** The step that tells a base to 1/12 stop; what was read on such a strip is the base. */
const TELLING_STOPS120: i32 = 20;
/** The step of the strip that is proposed: so much finer that eyes may be off by as much as half of it, too. */
const FINE_STOPS120: i32 = 12;
/** The fine strip covers what the last one left open, and half a step more at either end for eyes that are off. */
const PATCHES_BEYOND: i32 = 2;
const MOST_FINE_STEPS: i32 = STRIP_PATCHES - PATCHES_BEYOND;
/** Shorter patches say more of the relay than of the paper. */
const SHORTEST_FIRST_MS: i32 = 100;
/** Time to get a hand in and out (common practice, no source). */
const DODGEABLE_MS: i32 = 8000;
const STOP: i32 = 120;
const MOST_STOPS: i32 = OFFSET_STOPS120 / STOP;
const LEAST_PATCHES: i32 = 2;

/** The first strip of a negative: 2 to 64 s by whole stops. */
export const FIRST_STRIP_MS: i32 = 2000;
export const FIRST_STRIP_STOPS120: i32 = STOP;
export const FIRST_STRIP_PATCHES: i32 = 6;

export let proposedFirstMs: i32 = 0;
export let proposedStops120: i32 = 0;
export let proposedPatches: i32 = 0;

/** The dose that was right: patch `patch` (from 0), or half-way in stops from there to the next one. */
export function readMs(firstMs: i32, stepStops120: i32, stepMs: i32, patch: i32, between: bool): i32 {
  const lighterMs = patchMs(firstMs, stepStops120, stepMs, patch);
  if (!between) return lighterMs;
  return timeAtStopsMs(
    lighterMs,
    stopsBetween120(lighterMs, patchMs(firstMs, stepStops120, stepMs, patch + 1)) / 2,
  );
}

/** Proposes the next strip; false when none is needed, since what was read is the base. */
export function proposeStrip(
  verdict: Verdict,
  bestMs: i32,
  firstMs: i32,
  stepStops120: i32,
  stepMs: i32,
  patches: i32,
): bool {
  const lastMs = patchMs(firstMs, stepStops120, stepMs, patches - 1);
  proposedStops120 = stepStops120 != 0 ? stepStops120 : max(1, stopsBetween120(firstMs, firstMs + stepMs));
  proposedPatches = patches;
  if (verdict == Verdict.TooDark) return proposeFrom(firstMs, -proposedStops120 * (patches - 1));
  if (verdict == Verdict.TooLight) return proposeFrom(lastMs, 0);
  if (stepStops120 == 0) proposedStops120 = max(1, stopsBetween120(bestMs, bestMs + stepMs));
  if (proposedStops120 <= TELLING_STOPS120) return false;
  const openStops120 = proposedStops120;
  proposedStops120 = fineStops120(bestMs, openStops120);
  proposedPatches = quotientUp(openStops120, proposedStops120) + PATCHES_BEYOND;
  return proposeFrom(bestMs, -halfSpanStops120());
}

/** Coarser than usual where that would take too many patches, or pieces too short for the lamp. */
function fineStops120(bestMs: i32, openStops120: i32): i32 {
  const closedMs = timeAtStopsMs(bestMs, stopsDown(bestMs) * STOP);
  let stops120 = max(FINE_STOPS120, quotientUp(openStops120, MOST_FINE_STEPS));
  while (stops120 < openStops120 && pieceMs(closedMs, openStops120, stops120) < minimumDoseMs()) stops120++;
  return stops120;
}

/** About what the second patch gets on top of the first, the shortest piece of a strip about `bestMs`. */
function pieceMs(bestMs: i32, openStops120: i32, stops120: i32): i32 {
  const firstMs = timeAtStopsMs(bestMs, -(openStops120 + stops120) / 2);
  return timeAtStopsMs(firstMs, stops120) - firstMs;
}

function halfSpanStops120(): i32 {
  return (proposedStops120 * (proposedPatches - 1)) / 2;
}

function quotientUp(whole: i32, part: i32): i32 {
  return (whole + part - 1) / part;
}

/** First time `stops120` from `fromMs`, never too short for the lamp; as many of the patches as an hour allows. */
function proposeFrom(fromMs: i32, stops120: i32): bool {
  const leastMs = max(SHORTEST_FIRST_MS, minimumDoseMs());
  proposedFirstMs = max(leastMs, timeAtStopsMs(fromMs, stops120));
  while (proposedPatches > LEAST_PATCHES && !reaches(proposedPatches - 1)) proposedPatches--;
  return true;
}

function reaches(patch: i32): bool {
  return timeAtStopsMs(proposedFirstMs, proposedStops120 * patch) != NO_DOSE;
}

/** How many stops to stop the lens down for a base that leaves time to dodge; 0 when there is. */
export function stopsDown(baseMs: i32): i32 {
  let stops = 0;
  while (stops < MOST_STOPS && timeAtStopsMs(baseMs, stops * STOP) < DODGEABLE_MS) stops++;
  return stops;
}
