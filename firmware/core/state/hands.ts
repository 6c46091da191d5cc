/** The foot at the pedal and the hand at the knob, beside their contacts. */

@unmanaged
export class Hands {
  /** When the knob was turned last. */
  turnedAtUs: i64; // explored: not
  bootedAtUs: i64; // explored: not
  pressedAtUs: i64; // explored: not
  /** The press under way was told as a hold. */
  pedalIsHeld: bool; // explored: not, beyond its timers
  /** Down at power-up or for more than 10 s, and not let go since. */
  pedalIsStuck: bool;
  /** The knob is pushed, and neither let go nor held long enough yet. */
  pushIsFresh: bool; // explored: not, beyond its timers
  /** Which way that was, below zero for left, and how many clicks a detent of it is for a time. */
  turnWay: i32; // explored: not
  clicksADetent: i32; // explored: not
}
