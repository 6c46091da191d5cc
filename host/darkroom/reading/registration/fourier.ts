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
export function transform(
  { width, height, real, imaginary }: ComplexField,
  isInverse: boolean,
  usedRows = height,
): void {
  const rows = new Line(width, isInverse);
  for (let row = 0; row < usedRows; row++) rows.transform(real, imaginary, row * width, 1);
  const columns = new Line(height, isInverse);
  for (let column = 0; column < width; column++) columns.transform(real, imaginary, column, width);
}

/** One line of the field after the other. */
class Line {
  readonly #count: number;
  readonly #cosines: Float64Array;
  readonly #sines: Float64Array;
  readonly #places: Uint32Array;
  readonly #real: Float64Array;
  readonly #imaginary: Float64Array;

  constructor(count: number, isInverse: boolean) {
    this.#count = count;
    const turn = ((isInverse ? 2 : -2) * Math.PI) / count;
    this.#cosines = Float64Array.from({ length: count / 2 }, (_, at) => Math.cos(turn * at));
    this.#sines = Float64Array.from({ length: count / 2 }, (_, at) => Math.sin(turn * at));
    this.#places = bitsReversed(count);
    this.#real = new Float64Array(count);
    this.#imaginary = new Float64Array(count);
  }

  transform(real: Float32Array, imaginary: Float32Array, start: number, stride: number): void {
    for (let at = 0; at < this.#count; at++) {
      const place = start + this.#places[at]! * stride;
      this.#real[at] = real[place]!;
      this.#imaginary[at] = imaginary[place]!;
    }
    for (let half = 1; half < this.#count; half *= 2) this.#join(half);
    for (let at = 0; at < this.#count; at++) {
      real[start + at * stride] = this.#real[at]!;
      imaginary[start + at * stride] = this.#imaginary[at]!;
    }
  }

  /** Two transforms of `half` numbers each become one. */
  #join(half: number): void {
    const real = this.#real;
    const imaginary = this.#imaginary;
    const cosines = this.#cosines;
    const sines = this.#sines;
    const step = this.#count / (2 * half);
    for (let start = 0; start < this.#count; start += 2 * half)
      for (let at = 0; at < half; at++) {
        const even = start + at;
        const odd = even + half;
        const cosine = cosines[at * step]!;
        const sine = sines[at * step]!;
        const oddReal = real[odd]! * cosine - imaginary[odd]! * sine;
        const oddImaginary = real[odd]! * sine + imaginary[odd]! * cosine;
        real[odd] = real[even]! - oddReal;
        imaginary[odd] = imaginary[even]! - oddImaginary;
        real[even] = real[even]! + oddReal;
        imaginary[even] = imaginary[even]! + oddImaginary;
      }
  }
}

function bitsReversed(count: number): Uint32Array {
  const places = new Uint32Array(count);
  for (let at = 1; at < count; at++) places[at] = (places[at >> 1]! >> 1) | (at & 1 ? count / 2 : 0);
  return places;
}
