import { limits } from '../../shared-protocol/limits.js';
import { type Aperture, apertureFactor, apertureText } from '../darkroom/optics/aperture.js';
import { areaFactor, magnificationAtColumn, magnificationFactor } from '../darkroom/optics/magnification.js';
import { isoBounds } from '../darkroom/paper/iso-6846.js';
import { InputError } from '../errors.js';
import { type PrintSize, sideRatios, sizeText } from '../recipe/print-size.js';

/** From one value to another. */
export interface Change<T> {
  readonly from: T;
  readonly to: T;
}

/** How the print's size is told: once, in one of these ways. */
export type SizeChange =
  | { readonly magnification: Change<number> }
  /** Papers that one negative fills; `negative`, or the magnification of the first print, makes it exact. */
  | { readonly paper: Change<PrintSize>; readonly negative?: PrintSize; readonly magnificationNow?: number }
  /** Distance from negative to paper, in millimetres. */
  | { readonly columnMm: Change<number>; readonly focalLengthMm: number };

export interface RescaleRequest {
  readonly baseMs: number;
  readonly size?: SizeChange;
  /** Paper-side pupil over negative-side pupil; 1 unless the lens's maker says otherwise. */
  readonly pupilFactor?: number;
  readonly aperture?: Change<Aperture>;
  /** ISO P of the papers. */
  readonly paperSpeedP?: Change<number>;
  /** A factor that comes from elsewhere, such as a filter table. */
  readonly other?: readonly Reason[];
}

/** One factor and why. */
export interface Reason {
  readonly kind: 'size' | 'aperture' | 'paper-speed' | 'filter';
  readonly factor: number;
  readonly stops: number;
  /** What changed, in a few words: 'f/8 to f/11'. */
  readonly change: string;
  /** The change and how the factor follows from it. */
  readonly because: string;
}

/** Something to know before a sheet is spent on it. */
export interface Caution {
  readonly kind: 'area-law' | 'sides-differ' | 'cropped' | 'large-change' | 'paper-differs';
  readonly text: string;
}

export interface Rescaled {
  readonly baseMs: number;
  readonly beforeMs: number;
  /** The product of all factors, unrounded. */
  readonly factor: number;
  readonly stops: number;
  readonly reasons: readonly Reason[];
  readonly cautions: readonly Caution[];
  /** What the recipe should now say; absent where nothing changed or nothing is known. */
  readonly magnification?: number;
  readonly aperture?: Aperture;
}

/** A change that cannot be worked out or carried out; `field` names what to correct. */
export class RescaleError extends InputError {
  override readonly name = 'RescaleError';
  constructor(
    readonly field: string,
    message: string,
  ) {
    super(message);
  }
}

/** Sides that grow by ratios further apart than this mean another crop. */
const SAME_SHAPE_RATIO = 1.02;
/** A crop of less than a hundredth of a side is within what a negative carrier hides. */
const SEEN_CROP_RATIO = 1.01;
/** A step of a twelfth of a stop is the finest that anybody prints by. */
const VISIBLE_STOPS = 1 / 12;
/** Beyond this the paper's own reaction to long and short times begins to count. */
const LARGE_CHANGE_STOPS = 3;

/**
 * The new base time for another size, lens stop or paper, in any mix. The factors multiply, in whatever order;
 * the base is rounded once, at the end, half up. Offsets in stops stay as they are, so all of the recipe follows.
 * @throws RescaleError when nothing changes, or the new time is beyond what the board can give;
 * MagnificationError for sizes that cannot be.
 */
export function rescale(request: RescaleRequest): Rescaled {
  const size = request.size === undefined ? undefined : sizeStep(request.size, request.pupilFactor ?? 1);
  const reasons = [size?.reason, apertureReason(request.aperture), paperReason(request.paperSpeedP)]
    .filter((reason) => reason !== undefined)
    .concat(request.other ?? []);
  if (reasons.length === 0)
    throw new RescaleError('request', 'give what changes: a print size, an aperture, a paper or its speed');
  const factor = reasons.reduce((product, reason) => product * reason.factor, 1);
  return {
    baseMs: roundedBaseMs(request.baseMs, factor),
    beforeMs: request.baseMs,
    factor,
    stops: Math.log2(factor),
    reasons,
    cautions: [...(size?.cautions ?? []), ...generalCautions(request, factor)],
    ...(size?.magnification !== undefined && { magnification: size.magnification }),
    ...(request.aperture !== undefined && { aperture: request.aperture.to }),
  };
}

/** One factor with its reason; the stops follow from the factor. */
export function reasonOf(kind: Reason['kind'], factor: number, change: string, working: string): Reason {
  return { kind, factor, stops: Math.log2(factor), change, because: `${change}: ${working}` };
}

function roundedBaseMs(beforeMs: number, factor: number): number {
  const baseMs = Math.round(withoutFloatNoise(beforeMs * factor));
  if (baseMs >= 1 && baseMs <= limits.longestDoseMs) return baseMs;
  throw new RescaleError(
    'base',
    `the base would be ${(baseMs / 1000).toFixed(3)} s, and the board can give 0.001 s to ${limits.longestDoseMs / 1000} s; ` +
      `${baseMs < 1 ? 'stop the lens down' : 'open the lens'} as well`,
  );
}

interface SizeStep {
  readonly reason: Reason;
  readonly cautions: readonly Caution[];
  readonly magnification?: number;
}

function sizeStep(change: SizeChange, pupilFactor: number): SizeStep {
  if ('magnification' in change) return magnificationStep(change.magnification, pupilFactor);
  if ('columnMm' in change) {
    const { columnMm, focalLengthMm } = change;
    return magnificationStep(
      {
        from: magnificationAtColumn(focalLengthMm, columnMm.from),
        to: magnificationAtColumn(focalLengthMm, columnMm.to),
      },
      pupilFactor,
      `negative to paper ${columnMm.from} mm to ${columnMm.to} mm with a ${focalLengthMm} mm lens, `,
    );
  }
  return paperSizeStep(change, pupilFactor);
}

function paperSizeStep(change: Extract<SizeChange, { paper: unknown }>, pupilFactor: number): SizeStep {
  const { paper, negative, magnificationNow } = change;
  const papers = `${sizeText(paper.from)} to ${sizeText(paper.to)}, `;
  if (negative !== undefined) return filledStep(paper, negative, magnificationNow, pupilFactor, papers);
  const ratios = sideRatios(paper.from, paper.to);
  // The side that grows more is the one that fills the new paper.
  const ratio = Math.max(ratios.short, ratios.long);
  const cautions = shapeCaution(paper, ratios);
  if (magnificationNow === undefined) return areaLawStep(ratio, papers, cautions);
  const magnification = { from: magnificationNow, to: magnificationNow * ratio };
  const step = magnificationStep(magnification, pupilFactor, papers);
  return { ...step, cautions: [...cautions, ...step.cautions] };
}

/** The negative fills either paper: each has the magnification at which no white is left. */
function filledStep(
  paper: Change<PrintSize>,
  negative: PrintSize,
  magnificationNow: number | undefined,
  pupilFactor: number,
  papers: string,
): SizeStep {
  const [from, to] = [fillMagnification(negative, paper.from), fillMagnification(negative, paper.to)];
  if (magnificationNow !== undefined && !isSameShape(magnificationNow, from))
    throw new RescaleError(
      'negative',
      `the recipe's magnification is ${plain(magnificationNow)}, but a negative of ${sizeText(negative)} fills ` +
        `${sizeText(paper.from)} at ${plain(from)}; leave the negative out to go on from ${plain(magnificationNow)} ` +
        '(a crop, or a print with borders), or correct one of them',
    );
  const step = magnificationStep({ from, to }, pupilFactor, papers);
  return { ...step, cautions: [...cropCaution(paper, negative), ...step.cautions] };
}

function fillMagnification(negative: PrintSize, paper: PrintSize): number {
  const { short, long } = sideRatios(negative, paper);
  return Math.max(short, long);
}

function isSameShape(one: number, other: number): boolean {
  return Math.max(one, other) / Math.min(one, other) <= SAME_SHAPE_RATIO;
}

function cropCaution(paper: Change<PrintSize>, negative: PrintSize): Caution[] {
  const { short, long } = sideRatios(negative, paper.to);
  if (Math.max(short, long) / Math.min(short, long) < SEEN_CROP_RATIO) return [];
  const lost = (on: PrintSize) => `${lostOnPaper(negative, on)} on ${sizeText(on)}`;
  const text =
    `filling ${sizeText(paper.to)} at ${plain(Math.max(short, long))} x crops the negative: ${lost(paper.to)}, ` +
    `and ${lost(paper.from)}. To show all of it, give the magnification`;
  return [{ kind: 'cropped', text }];
}

/** What of the negative falls beside the paper that it fills. */
function lostOnPaper(negative: PrintSize, paper: PrintSize): string {
  const { short, long } = sideRatios(negative, paper);
  if (short === long) return 'nothing';
  const [side, sideMm, paperMm] =
    short > long ? ['long', negative.longMm, paper.longMm] : ['short', negative.shortMm, paper.shortMm];
  const lostMm = sideMm - paperMm / Math.max(short, long);
  return `${lostMm.toFixed(1)} mm of its ${side} side's ${plain(sideMm)} mm`;
}

function magnificationStep(change: Change<number>, pupilFactor: number, before = ''): SizeStep {
  const factor = magnificationFactor(change.from, change.to, pupilFactor);
  const pupil = pupilFactor === 1 ? '' : ` with a pupil factor of ${pupilFactor}`;
  const words = `${before}magnification ${plain(change.from)} to ${plain(change.to)}${pupil}`;
  const working = `((${pupilFactor} + ${plain(change.to)}) / (${pupilFactor} + ${plain(change.from)}))² = ${plain(factor)}`;
  return {
    reason: reasonOf('size', factor, words, working),
    cautions: areaLawCaution(areaFactor(change.from, change.to), factor),
    magnification: change.to,
  };
}

function areaLawStep(ratio: number, papers: string, cautions: readonly Caution[]): SizeStep {
  const factor = areaFactor(1, ratio);
  const text =
    'the magnification is not known, so the plain law of areas was used; it gives too long an exposure for small prints ' +
    '(half a stop too long from 2 x to 4 x): give the magnification or the size of the negative';
  return {
    reason: reasonOf(
      'size',
      factor,
      `${papers}sides x ${plain(ratio)}`,
      `${plain(ratio)}² = ${plain(factor)}`,
    ),
    cautions: [...cautions, { kind: 'area-law', text }],
  };
}

function shapeCaution(paper: Change<PrintSize>, { short, long }: { short: number; long: number }): Caution[] {
  if (isSameShape(short, long)) return [];
  const text =
    `the papers differ in shape: the short side grows x ${plain(short)}, the long side x ${plain(long)}; ` +
    `the larger was used, as for a picture that fills ${sizeText(paper.to)}, and of the picture on ` +
    `${sizeText(paper.from)} it crops ${lostOnPaper(paper.from, paper.to)}. ` +
    "If there is more on the negative, give the negative's size; if you crop otherwise, the magnification";
  return [{ kind: 'sides-differ', text }];
}

function areaLawCaution(areas: number, factor: number): Caution[] {
  const apart = Math.log2(areas / factor);
  if (Math.abs(apart) < VISIBLE_STOPS) return [];
  const text =
    `the plain law of areas would give x ${plain(areas)}, ${Math.abs(apart).toFixed(2)} stop ${apart > 0 ? 'too much' : 'too little'}; ` +
    'it was not used';
  return [{ kind: 'area-law', text }];
}

function apertureReason(change: Change<Aperture> | undefined): Reason | undefined {
  if (change === undefined) return undefined;
  const factor = apertureFactor(change.from, change.to);
  const exact = (aperture: Aperture) => aperture.exactFNumber.toFixed(2);
  return reasonOf(
    'aperture',
    factor,
    `${apertureText(change.from)} to ${apertureText(change.to)}`,
    `(${exact(change.to)} / ${exact(change.from)})² = ${plain(factor)}`,
  );
}

/** t2 = t1 x P1 / P2, since P = 1000 / Hm (ISO 6846). */
function paperReason(change: Change<number> | undefined): Reason | undefined {
  if (change === undefined) return undefined;
  for (const speedP of [change.from, change.to])
    if (!(speedP >= isoBounds.speedP.min && speedP <= isoBounds.speedP.max))
      throw new RescaleError(
        'paper-speed',
        `a paper speed of P${speedP} is outside P${isoBounds.speedP.min} to P${isoBounds.speedP.max}; it is on the box or in the data sheet as ISO P`,
      );
  const factor = change.from / change.to;
  return reasonOf(
    'paper-speed',
    factor,
    `paper of P${change.from} to P${change.to}`,
    `${change.from} / ${change.to} = ${plain(factor)}`,
  );
}

function generalCautions(request: RescaleRequest, factor: number): Caution[] {
  const cautions: Caution[] = [];
  if (request.paperSpeedP !== undefined)
    cautions.push({
      kind: 'paper-differs',
      text: 'papers differ in more than speed; make a narrow test strip around the new exposure',
    });
  // Powers of 2 differ in their last bit from one Node to the next, and three stops are not more than three.
  if (withoutFloatNoise(Math.abs(Math.log2(factor))) > LARGE_CHANGE_STOPS)
    cautions.push({
      kind: 'large-change',
      text:
        `a change of ${Math.abs(Math.log2(factor)).toFixed(1)} stops: at very long and very short exposures papers ` +
        'respond a little differently; make a test strip around the new exposure',
    });
  return cautions;
}

/** An exact half must round up even where the factors' square roots left it a hair below. */
function withoutFloatNoise(value: number): number {
  return Number(value.toPrecision(12));
}

/** Up to four digits that matter, without trailing noughts. */
function plain(value: number): string {
  return String(Number(value.toPrecision(4)));
}
