import { curveShapes, type ShapeWeight } from './curve-shapes.js';
import { type Figure, type SeenStrip, ShapeFit } from './shape-fit.js';

/** A figure by all shapes; its interval lies about `middle`, which counts on none of them so much as the figure does. */
export interface JoinedFigure extends Figure {
  readonly middle: number;
}

/** A strip by curves of all shapes that papers may have, each counted by how well it goes with the patches. */
export class ShapeFits {
  readonly #fits: readonly ShapeFit[];
  readonly #shares: Readonly<Record<keyof ShapeWeight, readonly number[]>>;

  /** @param placeNear log10 of the exposure for 0.60, roughly. */
  constructor(strip: SeenStrip, placeNear: number) {
    this.#fits = fitsOf(strip, placeNear);
    this.#shares = {
      inFigure: sharesOf(this.#fits, 'inFigure'),
      inInterval: sharesOf(this.#fits, 'inInterval'),
    };
  }

  /** Its mean over the shapes, and how far they and each of them may be off. */
  figure(of: (fit: ShapeFit) => Figure): JoinedFigure {
    const { inFigure, inInterval } = this.#shares;
    const figures = this.#fits.map(of);
    const values = figures.map(({ value }) => value);
    const middle = meanBy(inInterval, values);
    const squares = figures.map(({ value, deviation }) => deviation ** 2 + (value - middle) ** 2);
    return { value: meanBy(inFigure, values), middle, deviation: Math.sqrt(meanBy(inInterval, squares)) };
  }
}

/** Of 1 in all. */
function sharesOf(fits: readonly ShapeFit[], of: keyof ShapeWeight): number[] {
  const evidences = fits.map((fit) => fit.evidence(of));
  const most = Math.max(...evidences);
  const weights = evidences.map((evidence) => Math.exp(evidence - most));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / all);
}

function meanBy(shares: readonly number[], values: readonly number[]): number {
  return values.reduce((sum, value, at) => sum + shares[at]! * value, 0);
}

/** Once more with wider doubts where the patches scatter more than they should (R. T. Birge, Physical Review 40, 1932, from memory). */
function fitsOf(strip: SeenStrip, placeNear: number): ShapeFit[] {
  const by = (seen: SeenStrip) => curveShapes.map((shape) => new ShapeFit(seen, placeNear, shape));
  const fits = by(strip);
  const { scatter } = likeliest(fits);
  if (scatter <= 1) return fits;
  const widened = strip.patches.map((patch) => ({ ...patch, doubt: Math.sqrt(scatter) * patch.doubt }));
  return by({ ...strip, patches: widened });
}

function likeliest(fits: readonly ShapeFit[]): ShapeFit {
  return fits.reduce((best, fit) => (fit.evidence('inFigure') > best.evidence('inFigure') ? fit : best));
}
