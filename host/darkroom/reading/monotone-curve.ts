/** A curve that only rises through readings that scatter, without a model of the paper. */

export interface CurvePoint {
  readonly x: number;
  readonly y: number;
}

/**
 * The rising values nearest to `values` in least squares: neighbours out of order become their mean.
 * Pool adjacent violators: Ayer, Brunk, Ewing, Reid, Silverman, Annals of Mathematical Statistics 26 (1955), from memory.
 */
export function pooled(values: readonly number[]): number[] {
  const blocks: { sum: number; count: number }[] = [];
  for (const value of values) {
    blocks.push({ sum: value, count: 1 });
    while (blocks.length > 1 && outOfOrder(blocks.at(-2)!, blocks.at(-1)!)) {
      const last = blocks.pop()!;
      blocks.at(-1)!.sum += last.sum;
      blocks.at(-1)!.count += last.count;
    }
  }
  return blocks.flatMap(({ sum, count }) => new Array<number>(count).fill(sum / count));
}

interface Block {
  readonly sum: number;
  readonly count: number;
}

function outOfOrder(before: Block, after: Block): boolean {
  return before.sum / before.count >= after.sum / after.count;
}

/** A cubic in pieces through rising points that never falls between them. */
export class MonotoneCurve {
  readonly points: readonly CurvePoint[];
  readonly #slopes: readonly number[];

  /** @param points by rising x, with y that does not fall. */
  constructor(points: readonly CurvePoint[]) {
    this.points = points;
    this.#slopes = slopesOf(points);
  }

  at(x: number): number {
    const { points } = this;
    const last = points.length - 1;
    if (x <= points[0]!.x) return points[0]!.y;
    if (x >= points[last]!.x) return points[last]!.y;
    const piece = points.findIndex((point) => point.x > x) - 1;
    return this.#inPiece(piece, x);
  }

  /** Where the curve first reaches `y`; undefined where it does not, or begins above. */
  reaches(y: number): number | undefined {
    const { points } = this;
    const piece = points.findIndex((point, at) => point.y <= y && y < (points[at + 1]?.y ?? point.y));
    if (piece < 0) return undefined;
    let [low, high] = [points[piece]!.x, points[piece + 1]!.x];
    for (let round = 0; round < BISECTIONS; round++) {
      const middle = (low + high) / 2;
      if (this.#inPiece(piece, middle) < y) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }

  #inPiece(piece: number, x: number): number {
    const [from, to] = [this.points[piece]!, this.points[piece + 1]!];
    const width = to.x - from.x;
    const t = (x - from.x) / width;
    const rise = t * t * (3 - 2 * t);
    const bendAtStart = t * (1 - t) ** 2 * width * this.#slopes[piece]!;
    const bendAtEnd = t * t * (t - 1) * width * this.#slopes[piece + 1]!;
    return from.y + (to.y - from.y) * rise + bendAtStart + bendAtEnd;
  }
}

const BISECTIONS = 40;
/** Within a circle of this radius no piece of the cubic falls. */
const MOST_SLOPE = 3;

/** F. N. Fritsch, R. E. Carlson, 'Monotone piecewise cubic interpolation', SIAM J. Numer. Anal. 17 (1980), from memory. */
function slopesOf(points: readonly CurvePoint[]): number[] {
  const secants = points.slice(1).map((to, at) => (to.y - points[at]!.y) / (to.x - points[at]!.x));
  const slopes = points.map((_, at) => {
    const [before, after] = [secants[at - 1], secants[at]];
    if (before === undefined || after === undefined) return before ?? after ?? 0;
    return before * after <= 0 ? 0 : (before + after) / 2;
  });
  secants.forEach((secant, at) => {
    if (secant === 0) {
      slopes[at] = 0;
      slopes[at + 1] = 0;
      return;
    }
    const length = Math.hypot(slopes[at]! / secant, slopes[at + 1]! / secant);
    if (length <= MOST_SLOPE) return;
    slopes[at]! *= MOST_SLOPE / length;
    slopes[at + 1]! *= MOST_SLOPE / length;
  });
  return slopes;
}
