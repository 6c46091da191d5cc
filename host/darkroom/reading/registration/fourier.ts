/** A field of complex numbers in rows, both sides powers of two. */
export interface ComplexField {
  readonly width: number;
  readonly height: number;
  readonly real: Float32Array;
  readonly imaginary: Float32Array;
}

export function emptyField(width: number, height: number): ComplexField {
  const count = width * height;
  return { width, height, real: new Float32Array(count), imaginary: new Float32Array(count) };
}

/**
 * In place; the inverse is not divided by the count.
 * @param usedRows of a forward transform: those below are empty.
 * J. W. Cooley, J. W. Tukey, Math. Comp. 19 (1965), from memory.
 */
export function transform(field: ComplexField, isInverse: boolean, usedRows = field.height): void {
  const { width, height } = field;
  const acrossTurns = turnsOf(width, isInverse);
  for (let row = 0; row < usedRows; row++) transformRow(field, row, acrossTurns);
  transformColumns(field, turnsOf(height, isInverse));
}

/** What a line of so many numbers is turned by, and where each of them goes first. */
interface Turns {
  readonly cosines: Float64Array;
  readonly sines: Float64Array;
  readonly places: Uint32Array;
}

const knownTurns = new Map<number, Turns>();

function turnsOf(count: number, isInverse: boolean): Turns {
  const key = isInverse ? -count : count;
  const known = knownTurns.get(key);
  if (known !== undefined) return known;
  const turn = ((isInverse ? 2 : -2) * Math.PI) / count;
  const made = {
    cosines: Float64Array.from({ length: count / 2 }, (_, at) => Math.cos(turn * at)),
    sines: Float64Array.from({ length: count / 2 }, (_, at) => Math.sin(turn * at)),
    places: bitsReversed(count),
  };
  knownTurns.set(key, made);
  return made;
}

function transformRow({ width, real, imaginary }: ComplexField, row: number, turns: Turns): void {
  const { cosines, sines, places } = turns;
  const start = row * width;
  for (let at = 0; at < width; at++)
    if (places[at]! > at) {
      swap(real, start + at, start + places[at]!);
      swap(imaginary, start + at, start + places[at]!);
    }
  const end = start + width;
  for (let half = 1; half < width; half *= 2) {
    const step = width / (2 * half);
    for (let first = start; first < end; first += 2 * half)
      for (let at = 0; at < half; at++) {
        const even = first + at;
        join(real, imaginary, even, even + half, cosines[at * step]!, sines[at * step]!);
      }
  }
}

/** All columns at once, row by row: numbers that lie beside each other in memory are met one after the other. */
function transformColumns({ width, height, real, imaginary }: ComplexField, turns: Turns): void {
  const { cosines, sines, places } = turns;
  for (let row = 0; row < height; row++)
    if (places[row]! > row)
      for (let x = 0; x < width; x++) {
        swap(real, row * width + x, places[row]! * width + x);
        swap(imaginary, row * width + x, places[row]! * width + x);
      }
  for (let half = 1; half < height; half *= 2) {
    const step = height / (2 * half);
    for (let first = 0; first < height; first += 2 * half)
      for (let at = 0; at < half; at++) {
        const cosine = cosines[at * step]!;
        const sine = sines[at * step]!;
        const start = (first + at) * width;
        const apart = half * width;
        for (let even = start; even < start + width; even++) {
          join(real, imaginary, even, even + apart, cosine, sine);
        }
      }
  }
}

/** Two numbers of half as long a transform become two of the whole one. */
function join(
  real: Float32Array,
  imaginary: Float32Array,
  even: number,
  odd: number,
  cosine: number,
  sine: number,
): void {
  const oddReal = real[odd]! * cosine - imaginary[odd]! * sine;
  const oddImaginary = real[odd]! * sine + imaginary[odd]! * cosine;
  real[odd] = real[even]! - oddReal;
  imaginary[odd] = imaginary[even]! - oddImaginary;
  real[even] = real[even]! + oddReal;
  imaginary[even] = imaginary[even]! + oddImaginary;
}

function swap(values: Float32Array, one: number, other: number): void {
  const kept = values[one]!;
  values[one] = values[other]!;
  values[other] = kept;
}

function bitsReversed(count: number): Uint32Array {
  const places = new Uint32Array(count);
  for (let at = 1; at < count; at++) places[at] = (places[at >> 1]! >> 1) | (at & 1 ? count / 2 : 0);
  return places;
}
