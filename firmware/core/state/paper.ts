/** The sheet of paper under the enlarger, the paper that lies out, and the count since power-up. */

@unmanaged
export class Paper {
  /** From when on the oldest sheet that is still out has been out. */
  outSinceUs: i64; // explored: not, its timer tells
  oldestOut: i32; // explored: not
  isOut: bool; // explored: not, its timer tells
  /** The sheet was begun: its first exposure was about to be given, so the log has it. */
  isBegun: bool; // explored: not
  /** Begun, and neither finished nor given up; and whether it has had any light. */
  isOpen: bool; // explored: not
  isLit: bool; // explored: not
  /** Counts from 1 after power-up; 0 before the first sheet. */
  sheet: i32; // explored: not
  prints: i32; // explored: not
  strips: i32; // explored: not
  wasted: i32; // explored: not
}
