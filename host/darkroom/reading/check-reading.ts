import { hasForeignEnd } from './foreign-end.js';
import { patchesHeld } from './lay-out.js';
import type { PaperWhite } from './paper-white.js';
import type { PatchPlace, PatchTone } from './patch-tones.js';
import { StripRefused } from './refusal.js';
import type { StripFigures } from './strip-figures.js';
import type { StripScan } from './strip-scan.js';

/** Where patches lie, and the step of tone at each edge; that is undefined where a person placed the edges. */
export interface FoundPlaces {
  readonly places: readonly PatchPlace[];
  readonly steps: readonly number[] | undefined;
}

/** Above white: no paper is as black, a stretched scale is. */
const BLACKEST = 2.5;
const NOTHING = 0.0006;

/** @throws StripRefused */
export function checkScale({ light }: StripScan, white: PaperWhite, tones: readonly PatchTone[]): void {
  const black = light.reduce((count, each) => count + (each <= NOTHING ? 1 : 0), 0) / light.length;
  const isWhiteCut = white.clippedShare > 0.25;
  const isBlackCut = black > 0.003 || tones.at(-1)!.density > BLACKEST;
  if (isBlackCut) throw new StripRefused('automatic-tone');
  if (isWhiteCut) throw new StripRefused('clipped');
}

const PICTURE_SPREAD = 0.07;
const GLARE_SHARE = 0.06;
const WAVES = -0.35;
/** A step smaller than this between middle tones is none. */
const NO_STEP = 0.012;
const BACKWARDS = 0.06;

/** @throws StripRefused */
export function checkPatches(tones: readonly PatchTone[], { steps, places }: FoundPlaces): void {
  if (tones.some(({ waves }) => waves < WAVES)) throw new StripRefused('moire');
  const uneven = tones.filter(({ spread }) => spread > PICTURE_SPREAD).length;
  if (uneven > tones.length / 2) throw new StripRefused('picture');
  if (uneven > 0 || isEvenInPlaces(tones)) throw new StripRefused('glare');
  if (tones.some(({ glareShare, density }) => density > 0.5 && glareShare > GLARE_SHARE && glareShare < 0.4))
    throw new StripRefused('glare');
  const rises = tones.slice(1).map(({ density }, at) => density - tones[at]!.density);
  if (tones.at(-1)!.density - tones[0]!.density < 0.15) throw new StripRefused('not-a-strip');
  if (rises.some((rise) => rise < -BACKWARDS)) throw new StripRefused('not-a-strip');
  if (isRamp(tones)) throw new StripRefused('not-a-strip');
  const isFlat = (at: number) => {
    const [from, to] = [tones[at]!.density, tones[at + 1]!.density];
    return (
      from > 0.15 &&
      to < tones.at(-1)!.density - 0.25 &&
      (rises[at]! < NO_STEP || (steps?.[at] ?? 1) < NO_STEP)
    );
  };
  if (rises.some((_, at) => isFlat(at))) throw new StripRefused('fewer-patches');
  if (steps === undefined) return;
  if (isToneInLastAlone(tones)) throw new StripRefused('not-a-strip');
  const densities = tones.map(({ density }) => density);
  if (Math.min(...densities) < LIGHTER_THAN_PAPER) throw new StripRefused('fewer-patches');
  const held = patchesHeld(places, densities);
  if (isOneTakenForTwo(places, steps, densities[0]!) || held === 'fewer' || hasForeignEnd(places))
    throw new StripRefused('fewer-patches');
  if (held === 'more') throw new StripRefused('wrong-sheet');
}

/** Of what scans of flat patches scatter by, some twice as much as the worst of a thousand made ones, and many times a patch beside it. */
const SHINY_SPREAD = 0.035;
const SHINY_TIMES = 6;

/** Where the edge of a shine lies on a few patches, they scatter and the others do not; a paper's grain does it to all. */
function isEvenInPlaces(tones: readonly PatchTone[]): boolean {
  const spreads = tones.map(({ spread }) => spread).sort((one, other) => one - other);
  const usual = spreads[Math.floor(spreads.length / 4)]!;
  return spreads.at(-1)! > Math.max(SHINY_SPREAD, SHINY_TIMES * usual);
}

/** Thirds of a patch's inner part lie 0.4 of its width apart: on a ramp they differ by that share of a step. */
const RAMP_SHARE = 0.2;

/** Tones that grow within the patches as from one to the next are a shadow's or a sky's: a patch is even. */
function isRamp(tones: readonly PatchTone[]): boolean {
  const within = tones.reduce((sum, { rise }) => sum + rise, 0) / tones.length;
  const step = (tones.at(-1)!.density - tones[0]!.density) / (tones.length - 1);
  return within > RAMP_SHARE * step;
}

/** Uneven light makes white paper look lighter by less: what is lighter still is a lid. */
const LIGHTER_THAN_PAPER = -0.03;

/** Of the last patch but one; even a hard paper, a stop below the tone, shows more. */
const TONELESS = 0.02;

/** White all over and then dark at once: a sheet without tone, and the dark lid beside it. */
function isToneInLastAlone(tones: readonly PatchTone[]): boolean {
  return tones.length > 2 && tones.at(-2)!.density < TONELESS;
}

/** A patch that is much narrower than the others, at an edge that nobody sees, is half of a real one. */
const HALF_A_PATCH = 0.72;
const UNSEEN_STEP = 0.025;

function isOneTakenForTwo(
  places: readonly PatchPlace[],
  steps: readonly number[],
  firstDensity: number,
): boolean {
  const widths = places.map(({ left, right }) => right - left);
  const usual = [...widths].sort((one, other) => one - other)[Math.floor(widths.length / 2)]!;
  const isUnseen = (edge: number) => (edge < 0 ? firstDensity : (steps[edge] ?? 1)) < UNSEEN_STEP;
  return widths.some((width, at) => width < HALF_A_PATCH * usual && (isUnseen(at - 1) || isUnseen(at)));
}

/** No paper's curve misses by so much, in density. */
const MOST_MISS = 0.05;
/** ISO R of the papers that there are, and some more. */
const SOFTEST_AND_HARDEST = { min: 40, max: 200 };

/** @throws StripRefused */
export function checkFigures(
  { base, isoR, typicalMiss }: StripFigures,
  tones: readonly PatchTone[],
  tone: number,
): void {
  if (typicalMiss > MOST_MISS) throw new StripRefused('wrong-sheet');
  if (isoR !== undefined && (isoR.high < SOFTEST_AND_HARDEST.min || isoR.low > SOFTEST_AND_HARDEST.max))
    throw new StripRefused('wrong-sheet');
  if (base !== undefined) return;
  throw new StripRefused(tones[0]!.density > tone ? 'too-dark-strip' : 'too-light-strip');
}
