import { isoPoints } from '../paper/iso-6846.js';
import { LN_BLACK_SPREAD } from './assumed-black.js';
import type { CurveShape, ShapeWeight } from './curve-shapes.js';
import type { ErrorBudget } from './error-budget.js';
import { type Estimate, estimate, type Observation, type Unknown } from './estimate.js';
import { seenDensity } from './stray-light.js';

/** What a strip shows, and what is supposed of it before it is fitted. */
export interface SeenStrip {
  readonly patches: readonly SeenPatch[];
  readonly blackDensity: number;
  readonly budget: ErrorBudget;
}

export interface SeenPatch {
  /** log10 of the exposure. */
  readonly logExposure: number;
  /** Above paper white, as the device said. */
  readonly density: number;
  /** One standard deviation of what it alone may be off by. */
  readonly doubt: number;
}

/** A figure by one shape, and one standard deviation of it. */
export interface Figure {
  readonly value: number;
  readonly deviation: number;
}

/** The densest black, above white, that is supposed, and a density for it. */
type ToneOf = (blackDensity: number) => number;

/** ISO ranges are from 45 to 180: common practice, no source. As natural logarithms. */
const RANGE = { prior: Math.log(105), spread: 0.4 } as const;
/** log10 of the exposure for 0.60: nothing is known of it before. */
const PLACE_SPREAD = 3;

const names = ['range', 'place', 'black', 'tone', 'stray', 'white'] as const;
type Values = readonly [
  range: number,
  place: number,
  black: number,
  tone: number,
  stray: number,
  white: number,
];

/**
 * A strip's patches by a curve of one shape and a device that errs as its budget says: the range, the place, the black, the tone
 * curve, the stray light and the white that together go best with them, and how far these may be off together.
 */
export class ShapeFit {
  readonly #estimate: Estimate;
  readonly #shape: CurveShape;
  readonly #values: Values;

  constructor(strip: SeenStrip, placeNear: number, shape: CurveShape) {
    const observation = (patch: SeenPatch): Observation => ({
      uses: names,
      model: (values) => densityBy(shape, values as unknown as Values, patch.logExposure),
      seen: patch.density,
      doubt: patch.doubt,
    });
    this.#shape = shape;
    this.#estimate = estimate(unknownsOf(strip, placeNear), strip.patches.map(observation));
    this.#values = names.map((name) => this.#estimate.value(name)) as unknown as Values;
  }

  /** Natural logarithm of how likely this shape is against others, for the figure or for its interval. */
  evidence(of: keyof ShapeWeight): number {
    return this.#estimate.evidence + Math.log(this.#shape.weight[of]);
  }

  /** Mean square of what the patches miss the curve by, in their doubts. */
  get scatter(): number {
    return this.#estimate.scatter;
  }

  get lnRange(): Figure {
    return { value: this.#values[0], deviation: this.#estimate.deviation(new Map([['range', 1]])) };
  }

  /** log10 of the exposure for a tone. */
  logFor(tone: ToneOf): Figure {
    const at = (values: Values) => logExposureFor(this.#shape, values, tone);
    const value = at(this.#values);
    const slopes = names.map((name, index) => {
      const shifted = this.#values.map((each, other) => (other === index ? each + SMALL : each));
      return [name, (at(shifted as unknown as Values) - value) / SMALL] as const;
    });
    return { value, deviation: this.#estimate.deviation(new Map(slopes)) };
  }
}
const SMALL = 1e-5;

function unknownsOf({ blackDensity, budget }: SeenStrip, placeNear: number): Unknown[] {
  return [
    { name: 'range', ...RANGE },
    { name: 'place', prior: placeNear, spread: PLACE_SPREAD },
    { name: 'black', prior: Math.log(blackDensity), spread: LN_BLACK_SPREAD },
    { name: 'tone', prior: 1, spread: budget.gammaShare },
    { name: 'stray', prior: budget.flareShare, spread: budget.flareSpread },
    { name: 'white', prior: 0, spread: budget.evennessDensity },
  ];
}

/** By the curve and the device. */
function densityBy(shape: CurveShape, values: Values, logExposure: number): number {
  const [, place, , tone, stray, white] = values;
  const { black, atSpeed, steepness } = curveOf(shape, values);
  const density = black * shape.shareAt(atSpeed + steepness * (logExposure - place));
  return white + seenDensity(density, tone, stray);
}

function logExposureFor(shape: CurveShape, values: Values, tone: ToneOf): number {
  const { black, atSpeed, steepness } = curveOf(shape, values);
  return values[1] + (placeOf(shape, tone(black) / black) - atSpeed) / steepness;
}

function curveOf(shape: CurveShape, [lnRange, , lnBlack]: Values) {
  const black = Math.exp(lnBlack);
  const { lowestNetDensity, highestNetShare, speedNetDensity } = isoPoints;
  const reach = shape.placeOf(highestNetShare) - shape.placeOf(lowestNetDensity / black);
  return {
    black,
    atSpeed: shape.placeOf(speedNetDensity / black),
    steepness: (100 * reach) / Math.exp(lnRange),
  };
}

/** No tone is as black as the paper's black, or blacker. */
function placeOf(shape: CurveShape, share: number): number {
  return shape.placeOf(Math.min(MOST_SHARE, share));
}
const MOST_SHARE = 0.995;
