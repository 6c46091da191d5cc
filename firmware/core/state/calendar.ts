/** The date and the time that the knob turns to, and whether the board was told them since power-up. */

@unmanaged
export class Calendar {
  /** Milliseconds since 1970 when the board was started, as far as it was told. */
  startedMs: i64; // explored: not
  isTold: bool; // explored: not
  /** What the knob is at: see calendar-figures.ts. */
  figure: i32;
  year: i32; // explored: not
  /** From 1, as the day. */
  month: i32; // explored: not
  day: i32; // explored: not
  hour: i32; // explored: not
  minute: i32; // explored: not
}
