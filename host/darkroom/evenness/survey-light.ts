import type { Interval } from '../reading/strip-figures.js';
import { type EvennessRefusal, SurveyRefused } from './evenness-refusal.js';
import type { Light } from './grey-area.js';
import { type GreySheet, greySheet, placeOf } from './grey-sheet.js';
import { type FieldCell, fitField, type LightField, type Slope } from './light-field.js';
import {
  type KnownRange,
  rangeBetween,
  type StopsOfGrey,
  stopsByDarker,
  stopsByRange,
} from './stops-of-grey.js';

/** A grey sheet that was exposed without a negative, and what there is to tell its light by. */
export interface SurveyAsked {
  readonly grey: Light;
  /** The same sheet, turned by 180 degrees on the glass. */
  readonly turned?: Light | undefined;
  readonly by: DarkerSheet | KnownRange;
  readonly device: 'flatbed' | 'phone';
}

export interface DarkerSheet {
  /** A second sheet, exposed alike but for so many stops more. */
  readonly darker: Light;
  readonly stops: number;
  /** Nobody told the stops: a sheet that had others is refused as far as it can be seen. */
  readonly isSupposed?: boolean;
}

export interface Survey {
  readonly refused: EvennessRefusal | null;
  readonly figures: SurveyFigures | undefined;
}

export interface SurveyFigures {
  /** Width of the grey by its height. */
  readonly aspect: number;
  readonly field: LightField;
  /** From the middle, in stops. */
  readonly places: Readonly<Record<SheetPlace, Interval>>;
  /** What a slope adds from the middle to the right and to the bottom edge. */
  readonly slope: { readonly across: Interval; readonly down: Interval };
  readonly scanner: ScannerPart;
  /** One standard deviation, as a share of every figure. */
  readonly share: number;
  readonly stopsPerDensity: number;
  /** Of the paper, if the second sheet had the light that it is said to have had: to be held against its box. */
  readonly rangeR: number | undefined;
  /** What the second sheet may have had instead, where nobody told its step. */
  readonly otherSteps: readonly OtherStep[];
}

/** Another step that makes a paper there is of the two greys. */
export interface OtherStep {
  readonly stops: number;
  /** Of the paper, with that step. */
  readonly rangeR: number;
  /** So many times as large is every figure then. */
  readonly times: number;
}

/** How the scanner's own unevenness was told from the enlarger's. */
export type ScannerPart = 'by the border' | 'by turning, in part' | 'not';

export const sheetPlaces = {
  'top left': [-1, -1],
  top: [0, -1],
  'top right': [1, -1],
  left: [-1, 0],
  right: [1, 0],
  'bottom left': [-1, 1],
  bottom: [0, 1],
  'bottom right': [1, 1],
} as const satisfies Record<string, readonly [across: number, down: number]>;
export type SheetPlace = keyof typeof sheetPlaces;

/** Of density, one standard deviation of what the scanner may add from the middle to a corner, and as a slope to an edge. */
const SCANNER_DENSITY: Record<ScannerPart, { readonly corner: number; readonly slope: number }> = {
  'by the border': { corner: 0.002, slope: 0.002 },
  'by turning, in part': { corner: 0.004, slope: 0.001 },
  not: { corner: 0.006, slope: 0.005 },
};
const DEVIATIONS = 1.96;
const [LIGHTEST, DARKEST] = [0.25, 1.5];

/** How evenly the enlarger lights its easel; what cannot be told is refused. */
export function surveyLight(asked: SurveyAsked): Survey {
  try {
    return { refused: null, figures: surveyed(asked) };
  } catch (error) {
    if (error instanceof SurveyRefused) return { refused: error.code, figures: undefined };
    throw error;
  }
}

function surveyed({ grey, turned, by, device }: SurveyAsked): SurveyFigures {
  if (device === 'phone') throw new SurveyRefused('camera');
  const sheet = greySheet(grey);
  checkGrey(sheet, by);
  const other = turned === undefined ? undefined : alike(sheet, greySheet(turned));
  const odd = other === undefined ? undefined : oddPart(sheet, other);
  const density = without(sheet.density, odd);
  const { scale, stops, rangeR, otherSteps } = scaled(sheet, density, odd, by);
  const field = fitField(cellsOf(sheet, stops), sheet.aspect);
  checkSmooth(field, scale);
  const scanner = scannerPart(sheet, other);
  return {
    aspect: sheet.aspect,
    field,
    ...figuresOf(field, scale, scanner),
    scanner,
    rangeR,
    otherSteps,
    ...scale,
  };
}

function checkGrey({ white, density }: GreySheet, by: SurveyAsked['by']): void {
  if (white === 'none' && 'rangeR' in by) throw new SurveyRefused('no-white');
  if (white === 'none') return;
  const typical = Float64Array.from(density).sort()[density.length >> 1]!;
  if (typical < LIGHTEST) throw new SurveyRefused('too-light');
  if (typical > DARKEST) throw new SurveyRefused('too-dark');
}

const MOST_ASPECT_SHARE = 0.04;

function alike(one: GreySheet, other: GreySheet): GreySheet {
  const isAlike =
    Math.abs(Math.log(one.aspect / other.aspect)) < MOST_ASPECT_SHARE && one.white === other.white;
  if (!isAlike) throw new SurveyRefused('another-sheet');
  return other.rows === one.rows ? other : { ...other, ...resampled(other, one.rows) };
}

/** Two scans of one sheet may come out a row apart. */
function resampled({ columns, rows, density }: GreySheet, toRows: number) {
  const out = new Float64Array(columns * toRows);
  for (let row = 0; row < toRows; row++) {
    const from = Math.min(rows - 1, Math.max(0, ((row + 0.5) * rows) / toRows - 0.5));
    const [above, below] = [Math.floor(from), Math.min(rows - 1, Math.floor(from) + 1)];
    for (let column = 0; column < columns; column++) {
      const [upper, lower] = [density[above * columns + column]!, density[below * columns + column]!];
      out[row * columns + column] = upper + (lower - upper) * (from - above);
    }
  }
  return { rows: toRows, density: out };
}

const MOST_ODD_DENSITY = 0.03;

/** What stays where it is while the sheet turns: the half of the scanner's unevenness that is not alike on both sides of its middle. */
function oddPart(sheet: GreySheet, turned: GreySheet): Float64Array {
  const back = Float64Array.from(turned.density).reverse();
  const half = sheet.density.map((value, at) => (value - back[at]!) / 2);
  const mean = half.reduce((sum, value) => sum + value, 0) / half.length;
  const field = fitField(cellsOf(sheet, half), sheet.aspect);
  const odd = Float64Array.from(
    cellsOf(sheet, half),
    ({ across, down }) => (field.stopsAt(across, down) - field.stopsAt(-across, -down)) / 2,
  );
  const typical = Math.sqrt(half.reduce((sum, value) => sum + (value - mean) ** 2, 0) / half.length);
  if (typical > MOST_ODD_DENSITY) throw new SurveyRefused('not-turned');
  return odd;
}

function without(density: Float64Array, odd: Float64Array | undefined): Float64Array {
  return odd === undefined ? density : density.map((value, at) => value - odd[at]!);
}

interface Scaled {
  readonly scale: StopsOfGrey;
  readonly stops: Float64Array;
  readonly rangeR: number | undefined;
  readonly otherSteps: readonly OtherStep[];
}

function scaled(
  sheet: GreySheet,
  density: Float64Array,
  odd: Float64Array | undefined,
  by: SurveyAsked['by'],
): Scaled {
  if ('rangeR' in by) {
    const scale = stopsByRange(by, density.reduce((sum, value) => sum + value, 0) / density.length);
    return { scale, stops: density.map(scale.stopsOf), rangeR: undefined, otherSteps: [] };
  }
  const dark = without(alike(sheet, greySheet(by.darker)).density, odd);
  const scale = stopsByDarker(density, dark, by.stops);
  const rangeR = rangeBetween(middleOf(density), middleOf(dark), by.stops);
  if (by.isSupposed && !isOfPaper(rangeR)) throw new SurveyRefused('other-step');
  // The mean of both: where the curve bends between the two greys, one of them says too much and the other too little.
  const stops = density.map((value, at) => (scale.stopsOf(value) + scale.stopsOf(dark[at]!)) / 2);
  return { scale, stops, rangeR, otherSteps: by.isSupposed ? otherSteps(rangeR, by.stops) : [] };
}

/** Papers beyond these are seldom surveyed: by so little or so much the grey rather had other light. */
const [HARDEST_R, SOFTEST_R] = [68, 190];

function isOfPaper(rangeR: number): boolean {
  return rangeR > HARDEST_R && rangeR < SOFTEST_R;
}

/** Steps that a printer gives, in stops; common practice, no source. */
const GIVEN_STEPS = [1 / 3, 1 / 2, 3 / 4, 1];

/** Light and range come out in proportion to the step, so two sheets alone do not say which it was. */
function otherSteps(rangeR: number, supposedStops: number): OtherStep[] {
  return GIVEN_STEPS.filter((stops) => stops !== supposedStops)
    .map((stops) => ({ stops, times: stops / supposedStops, rangeR: (rangeR * stops) / supposedStops }))
    .filter((each) => isOfPaper(each.rangeR));
}

function middleOf(density: Float64Array): number {
  return density.toSorted()[density.length >> 1]!;
}

function cellsOf({ columns, rows }: GreySheet, values: Float64Array): FieldCell[] {
  return Array.from(values, (stops, at) => ({
    across: placeOf(at % columns, columns),
    down: placeOf(Math.floor(at / columns), rows),
    stops,
  }));
}

const [MOST_TYPICAL_MISS, MOST_MISS] = [0.012, 0.045];

function checkSmooth({ misses }: LightField, { stopsPerDensity }: StopsOfGrey): void {
  const densities = misses.map((miss) => Math.abs(miss) / stopsPerDensity).sort();
  const [typical, far] = [densities[densities.length >> 1]!, densities[Math.floor(0.95 * densities.length)]!];
  if (typical > MOST_TYPICAL_MISS || far > MOST_MISS) throw new SurveyRefused('picture');
}

function scannerPart(sheet: GreySheet, turned: GreySheet | undefined): ScannerPart {
  if (sheet.white === 'surface') return 'by the border';
  return turned === undefined ? 'not' : 'by turning, in part';
}

function figuresOf(field: LightField, { share, stopsPerDensity }: StopsOfGrey, scanner: ScannerPart) {
  const { corner, slope } = SCANNER_DENSITY[scanner];
  const interval = (value: number, own: number, scannerDensity: number): Interval => {
    const deviation = Math.hypot(share * value, own, scannerDensity * stopsPerDensity);
    return { value, low: value - DEVIATIONS * deviation, high: value + DEVIATIONS * deviation };
  };
  const at = ([across, down]: readonly [number, number]) =>
    interval(
      field.stopsAt(across, down),
      field.doubtAt(across, down),
      corner * Math.hypot(across, down) * Math.SQRT1_2,
    );
  const along = ({ stops, doubt }: Slope) => interval(stops, doubt, slope);
  const places = Object.fromEntries(Object.entries(sheetPlaces).map(([name, place]) => [name, at(place)]));
  return {
    places: places as Record<SheetPlace, Interval>,
    slope: { across: along(field.slope.across), down: along(field.slope.down) },
  };
}
