import type { FilmTie } from '../../recipe/film-tie.js';
import type { RecipePlan, StripPlan } from '../../recipe/planner/index.js';
import type { Recipe } from '../../recipe/recipe.js';
import { formatAperture10 } from '../../recipe/text/aperture-text.js';
import { type Enlarger, easelLux, enlargerThatSuits, type Setup } from '../light/enlarger.js';
import { densestCode, type Negative } from '../negative/negative.js';
import { readAperture } from '../optics/aperture.js';
import { isoPoints, logSpeedExposure } from '../paper/iso-6846.js';
import type { Paper } from '../paper/paper.js';
import { type ExposedSheet, type PassShapes, sheetAsPlanned, stripBands } from '../sheet/exposed-sheet.js';
import { type Sheet, wholeSheet } from '../sheet/sheet.js';
import type { GreyPicture } from './grey.js';
import { render } from './render.js';

/** What a recipe that does not say so is printed with. */
const COMMON_APERTURE = 'f/8';
const COMMON_MAGNIFICATION = 6;

export interface PreviewSetup {
  readonly negative: Negative;
  readonly paper: Paper;
  /** Left out, one is supposed on which the recipe's base is right for this negative. */
  readonly enlarger?: Enlarger;
  /** As left by the last focusing; the recipe's own where it is left out. */
  readonly setup?: Setup;
}

export interface PrintPreview {
  readonly picture: GreyPicture;
  /** Dodges and burns that the recipe gives no shape for: they are not in the picture. */
  readonly unplaced: readonly string[];
}

/**
 * A print by its recipe, as the plan has it.
 * @throws PaperError for a filter that the paper has no figures for.
 */
export function previewPrint(recipe: Recipe, plan: RecipePlan, preview: PreviewSetup): PrintPreview {
  const sheet = sheetAsPlanned(plan, shapesOf(recipe), luxOf(recipe, plan, preview));
  return picturePrint(sheet, preview);
}

/** A print from light that was worked out elsewhere, such as from the relay's edges (`sheetAsGiven`). */
export function picturePrint(
  { lights, unplaced }: ExposedSheet,
  { negative, paper }: PreviewSetup,
): PrintPreview {
  return { picture: render(wholeSheet(paper, lights), negative), unplaced };
}

/** A strip, as planned or with the light that its exposures really gave. */
export function previewStrip(
  strip: StripPlan,
  cover: 'cumulative' | 'separate',
  filter: string,
  lux: number,
  { negative, paper }: PreviewSetup,
  exposureMs?: readonly number[],
): GreyPicture {
  const sheet: Sheet = { paper, bands: stripBands(strip, cover, filter, lux, exposureMs) };
  return render(sheet, negative);
}

/** Lux at the easel for this recipe, with no negative in the carrier. */
export function luxOf(
  recipe: Recipe,
  plan: RecipePlan,
  { negative, paper, enlarger, setup }: PreviewSetup,
): number {
  const suited = enlarger ?? enlargerOfRightPrint(recipe, plan, { negative, paper });
  return easelLux(suited, setup ?? setupOf(recipe));
}

/** The enlarger on which this recipe's base is right for the negative; other recipes are then as they are beside it. */
export function enlargerOfRightPrint(
  recipe: Recipe,
  plan: RecipePlan,
  { negative, paper }: Pick<PreviewSetup, 'negative' | 'paper'>,
): Enlarger {
  if (negative.tie !== undefined) return enlargerOfTie(recipe, negative.tie, paper);
  return enlargerThatSuits(setupOf(recipe), plan.baseMs, luxSecondsThatSuit(negative, paper, plan));
}

/** By a strip that was made as this recipe has lens and size: nothing need be supposed of its base. */
function enlargerOfTie(recipe: Recipe, { filter, speedMs }: FilmTie, paper: Paper): Enlarger {
  paper.logSensitivities(filter);
  return enlargerThatSuits(
    setupOf(recipe),
    speedMs,
    10 ** logSpeedExposure(paper.figures.filters[filter]!.speedP),
  );
}

/** Aperture and magnification as the recipe says them, and common ones where it says nothing. */
export function setupOf({ aperture10, magnification1000 }: Recipe): Setup {
  const marked = aperture10 === 0 ? COMMON_APERTURE : formatAperture10(aperture10);
  return {
    aperture: readAperture(marked, 'halves'),
    magnification: magnification1000 === 0 ? COMMON_MAGNIFICATION : magnification1000 / 1000,
  };
}

/** Where the recipe's hands go. */
export function shapesOf(recipe: Recipe): PassShapes[] {
  return recipe.passes.map(({ shape, dodges }) => ({ shape, dodges: dodges.map((dodge) => dodge.shape) }));
}

/** Scales at both ends of a negative that nobody prints for: dust, and the deepest black. */
const ENDS_SHARE = 0.02;
const BISECTIONS = 50;

/**
 * Lux seconds of base exposure that print the middle of the negative's range at the standard's speed point,
 * 0.60 above base: what a printer would take for a first print.
 */
export function luxSecondsThatSuit(negative: Negative, paper: Paper, plan: RecipePlan): number {
  const middleDensity = -middleLogTransmittance(negative);
  const wanted = paper.figures.baseDensity + isoPoints.speedNetDensity;
  const passes = plan.passes.filter(({ kind }) => kind === 'base');
  const densityFor = (logLuxSeconds: number) =>
    paper.densityOf(
      passes.map(({ filter, doseMs }): [string, number] => [
        filter,
        (10 ** (logLuxSeconds - middleDensity) * doseMs) / plan.baseMs,
      ]),
    );
  let low = -6;
  let high = 8;
  for (let round = 0; round < BISECTIONS; round++) {
    const middle = (low + high) / 2;
    if (densityFor(middle) < wanted) low = middle;
    else high = middle;
  }
  return 10 ** low;
}

/** Half-way between the thinnest and the densest of the picture, both without their ends. */
export function middleLogTransmittance({ samples, logTransmittance, beyondFilm = 0 }: Negative): number {
  const counts = new Uint32Array(logTransmittance.length);
  for (const code of samples) counts[code]! += 1;
  counts[densestCode(logTransmittance)]! -= beyondFilm;
  const at = (share: number) => logTransmittance[codeAtShare(counts, share * (samples.length - beyondFilm))]!;
  return (at(ENDS_SHARE) + at(1 - ENDS_SHARE)) / 2;
}

function codeAtShare(counts: Uint32Array, wanted: number): number {
  let seen = 0;
  for (let code = 0; code < counts.length; code++) {
    seen += counts[code]!;
    if (seen >= wanted) return code;
  }
  return counts.length - 1;
}
