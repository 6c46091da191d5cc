/** The lamp, as the core knows it. */
export enum Lit {
  No,
  Paper,
  Focus,
}

@unmanaged
export class Light {
  sinceUs: i64; // explored: not, what is left is in the timers
  /** How bright it was already when the light under way, or the last one, began; 0 to 1. */
  warmth: f64; // explored: not
  /** How bright it was when it last went off, and when that was. */
  brightness: f64; // explored: not
  offUs: i64; // explored: not
  /** What the lamp is on for, until the board has said that it is off. */
  lit: Lit;
  /** The display is as it is beside the lamp. */
  roomIsDark: bool; // explored: not
  safelightIsOut: bool; // explored: not
}
