/** The lamp, as the core knows it. */
export enum Lit {
  No,
  Paper,
  Focus,
}

@unmanaged
export class Light {
  sinceUs: i64; // explored: not, what is left is in the timers
  /** What the lamp is on for, until the board has said that it is off. */
  lit: Lit;
  /** The safelight and the display are as they are beside the lamp. */
  roomIsDark: bool; // explored: not
}
