import { usualEasel } from '../../light/film-light.js';
import { logTransmittanceAt, type Negative } from '../../negative/negative.js';
import { middleLogTransmittance } from '../../picture/preview.js';
import { ASSUMED_BLACK } from '../assumed-black.js';
import type { ErrorBudget } from '../error-budget.js';
import { LEAST_LIGHT } from '../light.js';
import type { PaperWhite } from '../paper-white.js';
import { StripRefused } from '../refusal.js';
import { seenDensity } from '../stray-light.js';
import { type FiguresByNegative, figuresByNegative } from './figures-by-negative.js';
import type { StripOnNegative } from './strip-on-negative.js';
import { type TonePixel, toneCells } from './tone-cells.js';

/** A place of the negative's scan, in per cent from its left and top. */
export interface Spot {
  readonly xPercent: number;
  readonly yPercent: number;
}

/** Pixels of the strip are averaged over this many, across and down. */
const BLOCK = 3;
/** Where film changes by more than this within a block and its neighbours, a misplaced pixel has another tone. */
const MOST_CHANGE = 0.06;
const MOST_BLOCKS = 40_000;
const EDGE_SHARE = 0.12;

/** The negative in the carrier, and what of it the base is for: left out, the middle of its range. */
export interface AskedNegative {
  readonly negative: Negative;
  readonly spot?: Spot | undefined;
}

export interface AskedOfPicture {
  readonly dosesMs: readonly number[];
  readonly tone: number;
  readonly negative?: AskedNegative | undefined;
}

/** @throws StripRefused */
export function figuresOnNegative(
  strip: StripOnNegative,
  white: PaperWhite,
  { dosesMs, tone, negative }: AskedOfPicture,
  budget: ErrorBudget,
): FiguresByNegative {
  const doseLogs = dosesMs.map(Math.log10);
  const spotLog = spotOf(negative!);
  const cells = toneCells(pixelsOf(strip, white));
  if (new Set(cells.map(({ patch }) => patch)).size < 2) throw new StripRefused('unlike-negative');
  const figures = figuresByNegative({ cells, doseLogs, film: strip.film, spotLog }, tone, budget);
  const blackSeen = seenDensity(ASSUMED_BLACK, 1, budget.flareShare);
  if (figures.typicalMiss > MOST_MISS_SHARE * blackSeen) throw new StripRefused('unlike-negative');
  if (Math.abs(figures.tie.contrast - usualEasel.contrast) > MOST_CONTRAST_OFF)
    throw new StripRefused('wrong-sheet');
  return figures;
}

/** A small neighbourhood of the spot, or half-way between the thinnest and the densest of the picture. */
export function spotOf({ negative, spot }: AskedNegative): number {
  if (spot === undefined) return middleLogTransmittance(negative);
  const logs = SPOT_PERCENT.flatMap((x) =>
    SPOT_PERCENT.map((y) => logTransmittanceAt(negative, spot.xPercent + x, spot.yPercent + y)),
  );
  return logs.sort((one, other) => one - other)[Math.floor(logs.length / 2)]!;
}
const SPOT_PERCENT = [-0.6, -0.3, 0, 0.3, 0.6];

/**
 * Of the deepest black that the device shows, stray light over it: strips of their own negative lie off one curve by 0.0086 at most, those of
 * another frame of the same subject by 0.0127 and more.
 */
const MOST_MISS_SHARE = 0.011;
/** No enlarger and scanner differ by so much; light other than the log says looks like that. */
const MOST_CONTRAST_OFF = 0.4;

function pixelsOf({ picture, places, filmAt }: StripOnNegative, white: PaperWhite): TonePixel[] {
  const first = places[0]!;
  const area = (places.at(-1)!.right - first.left) * (first.bottom - first.top);
  const stride = Math.max(BLOCK, Math.round(Math.sqrt(area / MOST_BLOCKS)));
  return places.flatMap(({ left, right, top, bottom, lean }, patch) => {
    const pixels: TonePixel[] = [];
    const [insetX, insetY] = [EDGE_SHARE * (right - left), EDGE_SHARE * (bottom - top) * 0.5];
    for (let y = Math.ceil(top + insetY); y + BLOCK < bottom - insetY; y += stride) {
      const shift = lean * (y - (top + bottom) / 2);
      for (let x = Math.ceil(left + insetX + shift); x + BLOCK < right - insetX + shift; x += stride) {
        const filmLog = evenFilm(filmAt, x, y);
        const density = white.logAt(x, y) - Math.log10(Math.max(LEAST_LIGHT, meanAt(picture, x, y)));
        if (!Number.isNaN(filmLog)) pixels.push({ patch, filmLog, density });
      }
    }
    return pixels;
  });
}

/** The film over a block; NaN where there is none, or where it changes. */
function evenFilm(filmAt: (x: number, y: number) => number, x: number, y: number): number {
  const middle = (BLOCK - 1) / 2;
  const film = filmAt(x + middle, y + middle);
  const change =
    Math.abs(filmAt(x + BLOCK, y + middle) - filmAt(x - 1, y + middle)) +
    Math.abs(filmAt(x + middle, y + BLOCK) - filmAt(x + middle, y - 1));
  return change < MOST_CHANGE ? film : Number.NaN;
}

function meanAt({ width, height, light }: StripOnNegative['picture'], x: number, y: number): number {
  let [sum, count] = [0, 0];
  for (let row = y; row < Math.min(height, y + BLOCK); row++)
    for (let column = x; column < Math.min(width, x + BLOCK); column++) {
      sum += light[row * width + column]!;
      count++;
    }
  return sum / count;
}
