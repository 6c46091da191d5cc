/** A picture of light: shares of the full scale, in rows from the top left. */
export interface Light {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

/** Below this nothing is told apart. */
export const LEAST_LIGHT = 0.0005;
