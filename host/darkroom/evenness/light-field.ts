import { solved } from '../reading/normal-equations.js';

/** Stops of light over a sheet, smooth: 0 in its middle, places from -1 at the left and top edge to 1 at right and bottom. */
export interface LightField {
  readonly stopsAt: (across: number, down: number) => number;
  /** One standard deviation of `stopsAt`, by how far the sheet itself lies off the smooth field. */
  readonly doubtAt: (across: number, down: number) => number;
  /** The part that a slope adds from the middle to the right and to the bottom edge, and its deviation. */
  readonly slope: { readonly across: Slope; readonly down: Slope };
  /** Of every cell, in stops. */
  readonly misses: Float64Array;
}
export interface Slope {
  readonly stops: number;
  readonly doubt: number;
}

export interface FieldCell {
  readonly across: number;
  readonly down: number;
  readonly stops: number;
}

/** What develops unevenly does so over areas larger than a cell: so many times fewer cells tell something of their own. */
const CLUMPED = 9;
const FAR_OFF = 5;
const [ACROSS, DOWN] = [1, 2];

/** Light that falls off around any point and slopes any way, by least squares, once more without what lies far off. */
export function fitField(cells: readonly FieldCell[], aspect: number): LightField {
  const terms = termsFor(aspect);
  const first = weightsOf(cells, terms);
  const misses = missesOf(cells, terms, first);
  const typical = Float64Array.from(misses, Math.abs).sort()[misses.length >> 1]!;
  const near = cells.filter((_, at) => Math.abs(misses[at]!) <= Math.max(1e-9, FAR_OFF * typical));
  const weights = weightsOf(near, terms);
  const own = missesOf(near, terms, weights);
  const missStops = Math.sqrt(CLUMPED * meanSquare(own));
  const centre = terms(0, 0);
  const away = (across: number, down: number) => terms(across, down).map((term, at) => term - centre[at]!);
  const inverse = inverseOf(gram(near, terms));
  const doubtOf = (factors: readonly number[]) =>
    missStops *
    Math.sqrt(
      Math.max(
        0,
        dot(
          factors,
          inverse.map((column) => dot(column, factors)),
        ),
      ),
    );
  const slopeOf = (term: number): Slope => ({
    stops: weights[term]!,
    doubt: doubtOf(centre.map((_, at) => (at === term ? 1 : 0))),
  });
  return {
    stopsAt: stopsBy(weights, aspect),
    doubtAt: (across, down) => doubtOf(away(across, down)),
    slope: { across: slopeOf(ACROSS), down: slopeOf(DOWN) },
    misses: missesOf(cells, terms, weights),
  };
}

type Terms = (across: number, down: number) => number[];

/** Second order, and third and fourth as far as they go with the distance from the middle, which is 1 in the corners. */
function termsFor(aspect: number): Terms {
  const whole = aspect * aspect + 1;
  return (x, y) => {
    const far = (x * x * aspect * aspect + y * y) / whole;
    return [1, x, y, x * x, x * y, y * y, far * x, far * y, far * far];
  };
}

/** The terms' sum but the first, worked out without a list: a map asks for a million places. */
function stopsBy(weights: readonly number[], aspect: number): LightField['stopsAt'] {
  const [, x1, y1, xx, xy, yy, xFar, yFar, farFar] = weights as Nine;
  const [whole, square] = [aspect * aspect + 1, aspect * aspect];
  return (x, y) => {
    const far = (x * x * square + y * y) / whole;
    return x * (x1 + xx * x + xy * y + xFar * far) + y * (y1 + yy * y + yFar * far) + farFar * far * far;
  };
}
type Nine = [number, number, number, number, number, number, number, number, number];

function weightsOf(cells: readonly FieldCell[], terms: Terms): number[] {
  const right = terms(0, 0).fill(0);
  for (const { across, down, stops } of cells)
    terms(across, down).forEach((term, at) => {
      right[at]! += term * stops;
    });
  return solved(withRight(gram(cells, terms), right));
}

function gram(cells: readonly FieldCell[], terms: Terms): number[][] {
  const count = terms(0, 0).length;
  const rows = Array.from({ length: count }, () => new Array<number>(count).fill(0));
  for (const { across, down } of cells) {
    const values = terms(across, down);
    for (let row = 0; row < count; row++)
      for (let column = 0; column < count; column++) rows[row]![column]! += values[row]! * values[column]!;
  }
  return rows;
}

function withRight(rows: readonly (readonly number[])[], right: readonly number[]): number[][] {
  return rows.map((row, at) => [...row, right[at]!]);
}

function inverseOf(rows: readonly (readonly number[])[]): number[][] {
  return rows.map((_, at) =>
    solved(
      withRight(
        rows,
        rows.map((_each, row) => (row === at ? 1 : 0)),
      ),
    ),
  );
}

function missesOf(cells: readonly FieldCell[], terms: Terms, weights: readonly number[]): Float64Array {
  return Float64Array.from(cells, ({ across, down, stops }) => stops - dot(terms(across, down), weights));
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, each, at) => sum + each * other[at]!, 0);
}

function meanSquare(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0) / values.length;
}
