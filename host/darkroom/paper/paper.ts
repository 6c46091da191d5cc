import { InputError } from '../../errors.js';
import { BEND_WIDTH, bend, type CharacteristicCurve, densityAt, unbend } from './characteristic-curve.js';
import { isoBounds, isoPoints, logSpeedExposure } from './iso-6846.js';

/** What is known of a paper through one filter (or none): its ISO speed and range. */
export interface FilterFigures {
  readonly speedP: number;
  readonly rangeR: number;
}

/** A paper as data. A graded paper has one entry under the name of no filter, ''. */
export interface PaperFigures {
  readonly name: string;
  readonly baseDensity: number;
  readonly maximumDensity: number;
  readonly filters: Readonly<Record<string, FilterFigures>>;
}

/** A paper that cannot be; `field` names the figure. */
export class PaperError extends InputError {
  override readonly name = 'PaperError';
  constructor(
    readonly field: string,
    message: string,
  ) {
    super(message);
  }
}

/** Invented: a variable-contrast paper whose filters reach one grade each, and the next one R20 harder. */
export const commonPaper: PaperFigures = {
  name: 'variable contrast, glossy',
  baseDensity: 0.05,
  maximumDensity: 2.1,
  // Half numbers lie between. Speeds: filters to 3 1/2 alike and 4 to 5 one stop slower, common practice.
  filters: {
    '': { speedP: 400, rangeR: 110 },
    '00': { speedP: 200, rangeR: 170 },
    '0': { speedP: 200, rangeR: 150 },
    '1': { speedP: 200, rangeR: 130 },
    '1 1/2': { speedP: 200, rangeR: 120 },
    '2': { speedP: 200, rangeR: 110 },
    '2 1/2': { speedP: 200, rangeR: 100 },
    '3': { speedP: 200, rangeR: 90 },
    '3 1/2': { speedP: 200, rangeR: 80 },
    '4': { speedP: 100, rangeR: 70 },
    '4 1/2': { speedP: 100, rangeR: 60 },
    '5': { speedP: 100, rangeR: 50 },
  },
};

/**
 * A paper that can be exposed through several filters on one sheet.
 *
 * Variable-contrast paper is coated with emulsions alike in blue light and unlike in green: a hard filter
 * makes them act as one, a soft one spreads them along the exposure scale (the mechanism is general
 * knowledge of the trade; the number and even spacing of the layers is this model's). Here `layerCount`
 * layers, each with the curve of the paper's hardest filter, are spread evenly; for each filter the spread
 * is found that gives its ISO range, and then the speed that gives its P. Exposures through different
 * filters add within each layer, so their order does not matter and more light never prints lighter.
 */
export class Paper {
  static readonly layerCount = 7;
  readonly figures: PaperFigures;
  /** The curve of one layer in exposures of its own: 0.60 above base at a log exposure of 0. */
  readonly layerCurve: CharacteristicCurve;
  readonly #sensitivities = new Map<string, Float64Array>();

  /** @throws PaperError for densities, speeds or ranges outside what papers have. */
  constructor(figures: PaperFigures) {
    checkPaper(figures);
    this.figures = figures;
    const ranges = Object.values(figures.filters).map(({ rangeR }) => rangeR);
    this.layerCurve = curveFrom(figures, { speedP: 1000, rangeR: Math.min(...ranges) });
    for (const [filter, { speedP, rangeR }] of Object.entries(figures.filters))
      this.#sensitivities.set(filter, this.#fitLayers(logSpeedExposure(speedP), rangeR / 100));
  }

  get filterNames(): string[] {
    return [...this.#sensitivities.keys()];
  }

  /** log10 of each layer's sensitivity through `filter`. @throws PaperError for a filter without figures. */
  logSensitivities(filter: string): Float64Array {
    const found = this.#sensitivities.get(filter);
    if (found !== undefined) return found;
    throw new PaperError(
      'filter',
      `the paper '${this.figures.name}' has no figures for ${nameOf(filter)}; it has ${this.filterNames.map((name) => name || 'no filter').join(', ')}`,
    );
  }

  /** Density after one exposure through one filter, log10 of lux seconds. */
  densityAt(filter: string, logExposure: number): number {
    const shifts = this.logSensitivities(filter);
    let density = 0;
    for (const shift of shifts) density += densityAt(this.layerCurve, logExposure + shift);
    return density / shifts.length;
  }

  /** Density after exposures in lux seconds through several filters on the same spot. */
  densityOf(exposures: Iterable<readonly [filter: string, luxSeconds: number]>): number {
    const layers = new Float64Array(Paper.layerCount);
    for (const [filter, luxSeconds] of exposures)
      this.logSensitivities(filter).forEach((shift, layer) => {
        layers[layer]! += luxSeconds * 10 ** shift;
      });
    return (
      layers.reduce((sum, sensed) => sum + densityAt(this.layerCurve, Math.log10(sensed)), 0) / layers.length
    );
  }

  #fitLayers(logSpeed: number, logRange: number): Float64Array {
    const shiftsFor = (spread: number) =>
      Float64Array.from(
        { length: Paper.layerCount },
        (_, layer) => spread * (0.5 - layer / (Paper.layerCount - 1)),
      );
    const net = this.figures.maximumDensity - this.figures.baseDensity;
    const reach = (spread: number, netDensity: number) =>
      this.#logExposureFor(shiftsFor(spread), netDensity / net);
    const rangeOf = (spread: number) =>
      reach(spread, isoPoints.highestNetShare * net) - reach(spread, isoPoints.lowestNetDensity);
    const spread = rangeOf(0) >= logRange ? 0 : bisect(rangeOf, logRange, 0, WIDEST_SPREAD);
    const toSpeed = reach(spread, isoPoints.speedNetDensity) - logSpeed;
    return shiftsFor(spread).map((shift) => shift + toSpeed);
  }

  /** The log exposure at which layers with these shifts reach a share of the net density between them. */
  #logExposureFor(shifts: Float64Array, share: number): number {
    const { toeLogExposure, spanLogExposure } = this.layerCurve;
    const shareAt = (logExposure: number) =>
      shifts.reduce((sum, shift) => sum + bend((logExposure + shift - toeLogExposure) / spanLogExposure), 0) /
      shifts.length;
    return bisect(shareAt, share, -WIDEST_SPREAD, WIDEST_SPREAD);
  }
}

function nameOf(filter: string): string {
  return filter === '' ? 'no filter' : `filter ${filter}`;
}

/** Wider, in log exposure, than the softest paper that `isoBounds` allows. */
const WIDEST_SPREAD = 8;
const BISECTIONS = 60;

/** Where the rising function reaches `goal` between `low` and `high`. */
function bisect(rising: (x: number) => number, goal: number, low: number, high: number): number {
  let from = low;
  let to = high;
  for (let round = 0; round < BISECTIONS; round++) {
    const middle = (from + to) / 2;
    if (rising(middle) < goal) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}

/** The curve whose ISO range and speed, measured by the standard's definition, are the ones asked for, however round its corners. */
export function curveFrom(
  { baseDensity, maximumDensity }: Pick<PaperFigures, 'baseDensity' | 'maximumDensity'>,
  { speedP, rangeR }: FilterFigures,
  bendWidth = BEND_WIDTH,
): CharacteristicCurve {
  const net = maximumDensity - baseDensity;
  const atT = unbend(isoPoints.lowestNetDensity / net, bendWidth);
  const atS = unbend(isoPoints.highestNetShare, bendWidth);
  const atM = unbend(isoPoints.speedNetDensity / net, bendWidth);
  const spanLogExposure = rangeR / 100 / (atS - atT);
  const toeLogExposure = logSpeedExposure(speedP) - atM * spanLogExposure;
  return { baseDensity, maximumDensity, toeLogExposure, spanLogExposure, bendWidth };
}

function checkPaper({ baseDensity, maximumDensity, filters }: PaperFigures): void {
  within('baseDensity', baseDensity, 0, 1);
  within('maximumDensity', maximumDensity, baseDensity + 1, 4);
  if (Object.keys(filters).length === 0)
    throw new PaperError('filters', 'a paper needs figures for at least one filter');
  for (const [filter, { speedP, rangeR }] of Object.entries(filters)) {
    within(`filters.${filter}.speedP`, speedP, isoBounds.speedP.min, isoBounds.speedP.max);
    within(`filters.${filter}.rangeR`, rangeR, isoBounds.rangeR.min, isoBounds.rangeR.max);
  }
}

function within(field: string, value: number, min: number, max: number): void {
  if (value >= min && value <= max) return;
  throw new PaperError(field, `${field} is ${value}; it must be from ${min} to ${max}`);
}
