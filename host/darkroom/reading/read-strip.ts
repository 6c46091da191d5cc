import { hasRoomBefore, hasToneBefore } from './before-first.js';
import type { FiguresByNegative } from './by-negative/figures-by-negative.js';
import { type AskedNegative, figuresOnNegative } from './by-negative/read-by-negative.js';
import { type StripOnNegative, stripOnNegative } from './by-negative/strip-on-negative.js';
import { checkFigures, checkPatches, checkScale, type FoundPlaces } from './check-reading.js';
import { errorBudgets, type ScanDevice } from './error-budget.js';
import { type DensityGrid, type FoundPatches, findPatches } from './find-patches.js';
import { hasLaggingStep } from './lagging-step.js';
import { withPlainStarts } from './lamp-starts.js';
import { withoutLighterLid } from './lighter-lid.js';
import { type PaperWhite, paperWhite, whiteOfPatches } from './paper-white.js';
import { type PatchPlace, type PatchTone, patchTone } from './patch-tones.js';
import { type RefusalCode, StripRefused } from './refusal.js';
import type { Registration } from './registration/register.js';
import { withoutScale } from './scale-apart.js';
import { type StripFigures, stripFigures } from './strip-figures.js';
import type { StripScan } from './strip-scan.js';
import type { TonePlace } from './tone.js';
import { toneInScan } from './tone-in-scan.js';
import { gridOf, type Upright, upright } from './upright.js';
import { hasWaves } from './waves.js';
import type { Inside } from './white-border.js';

export interface StripAsked {
  /** All that each patch had, lightest first, by the log or as planned. */
  readonly dosesMs: readonly number[];
  /** The tone that the base is for: density above paper white, or the pixels of the scan where a grey has it. */
  readonly tone: number | TonePlace;
  readonly device: ScanDevice;
  /**
   * No board made it: patches were counted by eye, so that white ones at the light end may have been left out, and nothing made up
   * for the lamp's start.
   */
  readonly isCounted?: boolean | undefined;
  /** Edges as a person placed them, pixels of the scan along the strip, one more than patches; found where left out. */
  readonly edgesPx?: readonly number[];
  /** The negative's scan, of a strip with its picture. */
  readonly negative?: AskedNegative | undefined;
}

export interface PlacedPatch extends PatchTone {
  /** Pixels of the scan, along the strip, at its middle. */
  readonly fromPx: number;
  readonly toPx: number;
  readonly doseMs: number;
}

export interface StripReading {
  readonly refused: RefusalCode | null;
  /** The tone that the base is for, above paper white; undefined where it was to be read in the scan, and was not. */
  readonly tone: number | undefined;
  /** Empty where none were found. */
  readonly patches: readonly PlacedPatch[];
  readonly figures: StripFigures | undefined;
  /** The same figures and what ties film to light, where the negative's scan was there. */
  readonly byNegative: FiguresByNegative | undefined;
  readonly placed: Placed | undefined;
}

/** Where the patches lie, for a picture of the edges. */
export interface Placed {
  readonly picture: Upright;
  readonly places: readonly PatchPlace[];
  /** How the strip lies on its negative, where that was there. */
  readonly registration?: Registration | undefined;
}

/** Reads a strip; what cannot be read is refused with its reason. */
export function readStrip(scan: StripScan, asked: StripAsked): StripReading {
  const reading = readAlone(scan, asked, scan);
  const { tone } = asked;
  if (typeof tone === 'number' || reading.refused === null || reading.refused === 'no-grey-there')
    return reading;
  // Two things on the glass are no strip: its grey scale may be one of them.
  for (const alone of withoutScale(scan, tone)) {
    const apart = readAlone(alone, asked, scan);
    if (apart.refused === null) return apart;
  }
  return reading;
}

/** @param whole the scan in which a tone is pointed at. */
function readAlone(scan: StripScan, asked: StripAsked, whole: StripScan): StripReading {
  const progress: Progress = { patches: [], tone: typeof asked.tone === 'number' ? asked.tone : undefined };
  try {
    const figures = readFigures(scan, asked, whole, progress);
    const byNegative = 'tie' in figures ? figures : undefined;
    const { patches, placed, tone } = progress;
    return { refused: null, tone, patches, figures, byNegative, placed };
  } catch (error) {
    if (!(error instanceof StripRefused)) throw error;
    const { patches, placed, tone } = progress;
    return { refused: error.code, tone, patches, figures: undefined, byNegative: undefined, placed };
  }
}

/** What is known by the time a strip is refused: its edges are worth seeing. */
interface Progress {
  tone: number | undefined;
  patches: PlacedPatch[];
  placed?: Placed | undefined;
}

function readFigures(
  scan: StripScan,
  asked: StripAsked,
  whole: StripScan,
  progress: Progress,
): StripFigures | FiguresByNegative {
  const longest = Math.max(scan.width, scan.height);
  if (asked.edgesPx?.some((edge) => edge > longest)) throw new StripRefused('edges-outside');
  const rough = lightestOf(scan.light);
  if (rough < DARKEST_WHITE) throw new StripRefused('too-dark');
  const onNegative = asked.negative && stripOnNegative(scan, rough, asked.negative.negative, asked.dosesMs);
  const picture = onNegative?.picture ?? upright(scan, rough);
  if (onNegative === undefined && hasWaves(picture)) throw new StripRefused('moire');
  const budget = errorBudgets[asked.device];
  const toneBy = (white: Pick<PaperWhite, 'logAt'>) =>
    typeof asked.tone === 'number' ? asked.tone : toneInScan(whole, asked.tone, picture, white, budget);
  const roughTone = toneBy({ logAt: () => Math.log10(rough) });
  const found = (onNegative && corrected(onNegative, asked)) ?? foundIn(picture, rough, asked, roughTone);
  progress.placed = { picture, places: found.places, registration: onNegative?.registration };
  const white = paperWhite(picture, insideOf(found.places), rough);
  const paper = white ?? whiteWithoutBorder(picture, found, rough);
  if (paper === undefined) throw new StripRefused('no-white');
  const tones = found.places.map((place) => patchTone(picture, paper, place));
  progress.patches = tones.map((tone, at) =>
    placed(scan, picture, found.places[at]!, tone, asked.dosesMs[at]!),
  );
  checkScale(scan, paper, tones);
  const tone = toneBy(paper);
  progress.tone = tone;
  if (onNegative !== undefined)
    return figuresOfPicture({ ...onNegative, places: found.places }, paper, tones, { ...asked, tone });
  checkPatches(tones, found);
  if (hasLaggingStep(progress.patches)) throw new StripRefused('wrong-sheet');
  const figures = stripFigures(
    tones.map((tone, at) => ({
      stops: Math.log2(asked.dosesMs[at]!),
      density: tone.density,
      noise: noiseOf(tone),
    })),
    tone,
    budget,
  );
  checkFigures(figures, tones, tone);
  return asked.isCounted ? withPlainStarts(figures, asked.dosesMs) : figures;
}

function whiteWithoutBorder(
  picture: Upright,
  { places }: FoundPlaces,
  rough: number,
): PaperWhite | undefined {
  const even = { logAt: () => Math.log10(rough), pixels: 0, isSurface: false, clippedShare: 0 };
  const densities = places.map((place) => patchTone(picture, even, place).density);
  return whiteOfPatches(rough, densities);
}

/** One standard deviation of a patch's density, by how its own pixels scatter. */
export function noiseOf({ spread, pixels }: PatchTone): number {
  return spread / Math.sqrt(pixels / BLOCK_PIXELS / 2);
}

/** With the edges that a person placed, where there are any. */
function corrected({ picture, places }: StripOnNegative, { edgesPx }: StripAsked): FoundPlaces {
  const edges = edgesPx?.map(picture.fromScan).sort((one, other) => one - other);
  if (edges === undefined) return { places, steps: undefined };
  return {
    places: places.map((place, at) => ({ ...place, left: edges[at]!, right: edges[at + 1]! })),
    steps: undefined,
  };
}

function figuresOfPicture(
  onNegative: StripOnNegative,
  white: PaperWhite,
  tones: readonly PatchTone[],
  asked: StripAsked & { readonly tone: number },
): FiguresByNegative {
  const figures = figuresOnNegative(onNegative, white, asked, errorBudgets[asked.device]);
  checkFigures(figures, tones, asked.tone);
  return figures;
}

const BLOCK_PIXELS = 16;
/** Light of paper white below which shadows drown in noise. */
const DARKEST_WHITE = 0.1;

/** The light of the lightest parts, without specks. */
function lightestOf(light: Float32Array): number {
  const some = light.filter((_, at) => at % 7 === 0).sort();
  return some[Math.floor(some.length * 0.985)]!;
}

function foundIn(picture: Upright, rough: number, asked: StripAsked, tone: number): FoundPlaces {
  const { dosesMs, edgesPx } = asked;
  const grid = withoutLighterLid(gridOf(picture, rough));
  checkTones(grid, dosesMs.length, tone);
  const found = findPatches(grid, dosesMs.length);
  if (found === undefined) throw new StripRefused('not-a-strip');
  if (edgesPx === undefined) {
    if (hasToneBefore(grid, found)) throw new StripRefused('wrong-sheet');
    if (asked.isCounted && hasRoomBefore(grid, found)) throw new StripRefused('room-for-more');
  }
  const [cellX, cellY] = grid.cell;
  const edges =
    edgesPx === undefined
      ? found.edges.map((edge) => edge * cellX)
      : edgesPx.map(picture.fromScan).sort((one, other) => one - other);
  const rows = { top: found.topRow * cellY, bottom: found.bottomRow * cellY };
  const lean = (found.lean * cellX) / cellY;
  const places = dosesMs.map((_, at) => ({ left: edges[at]!, right: edges[at + 1]!, ...rows, lean }));
  return { places, steps: edgesPx === undefined ? stepsOf(found) : undefined };
}

/** Strips that are as good as white, or as good as black, have no edges to be found. */
function checkTones({ columns, rows, density }: DensityGrid, patches: number, tone: number): void {
  const tones = Array.from({ length: columns }, (_, column) => {
    const middle = Array.from({ length: Math.ceil(rows * 0.2) }, (_, at) => Math.floor(rows * 0.4) + at);
    const values = middle.map((row) => density[row * columns + column]!).sort((one, other) => one - other);
    return values[values.length >> 1]!;
  });
  const dark = tones.map((value) => value > DARK_SHARE * tone);
  const [from, to] = [dark.indexOf(true), dark.lastIndexOf(true) + 1];
  if (from < 0) throw new StripRefused(Math.max(...tones) > LEAST_TONE ? 'too-light-strip' : 'not-a-strip');
  const blur = Math.ceil(0.02 * columns);
  const inner = tones.slice(from + blur, to - blur);
  const hasRoomBefore = from > (0.6 * (to - from)) / patches;
  if (inner.length > blur && !hasRoomBefore && Math.min(...inner) > DARKER_THAN * tone)
    throw new StripRefused('too-dark-strip');
}
const DARK_SHARE = 0.5;
const DARKER_THAN = 1.2;
const LEAST_TONE = 0.06;

function stepsOf({ steps }: FoundPatches): readonly number[] {
  return steps;
}

function insideOf(places: readonly PatchPlace[]): Inside {
  const [first, last] = [places[0]!, places.at(-1)!];
  const leaning = Math.abs((first.lean * (first.bottom - first.top)) / 2);
  return { left: first.left - leaning, right: last.right + leaning, top: first.top, bottom: first.bottom };
}

function placed(
  scan: StripScan,
  { alongScan }: Upright,
  { left, right }: PatchPlace,
  tone: PatchTone,
  doseMs: number,
): PlacedPatch {
  const px = (x: number) => Math.round(alongScan(x) * scan.filePixels);
  const [one, other] = [px(left), px(right)];
  return { ...tone, fromPx: Math.min(one, other), toPx: Math.max(one, other), doseMs };
}
