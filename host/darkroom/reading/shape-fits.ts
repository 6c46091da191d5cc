import { curveShapes } from './curve-shapes.js';
import { type Figure, type SeenStrip, ShapeFit } from './shape-fit.js';

/** A strip by curves of all shapes that papers may have, each counted by how well it goes with the patches. */
export class ShapeFits {
  readonly #fits: readonly ShapeFit[];
  readonly #weights: readonly number[];

  /** @param placeNear log10 of the exposure for 0.60, roughly. */
  constructor(strip: SeenStrip, placeNear: number) {
    this.#fits = fitsOf(strip, placeNear);
    const most = likeliest(this.#fits).evidence;
    this.#weights = this.#fits.map(({ evidence }) => Math.exp(evidence - most));
  }

  /** Its mean over the shapes, and how far they and each of them may be off. */
  figure(of: (fit: ShapeFit) => Figure): Figure {
    const figures = this.#fits.map(of);
    const value = this.#mean(figures.map((figure) => figure.value));
    const squares = figures.map((figure) => figure.deviation ** 2 + (figure.value - value) ** 2);
    return { value, deviation: Math.sqrt(this.#mean(squares)) };
  }

  #mean(values: readonly number[]): number {
    const sum = this.#weights.reduce((total, weight) => total + weight, 0);
    return values.reduce((total, value, at) => total + this.#weights[at]! * value, 0) / sum;
  }
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
  return fits.reduce((best, fit) => (fit.evidence > best.evidence ? fit : best));
}
