/** The pass that is being given or will be next, and what the lamp gave of it so far. */

@unmanaged
export class Given {
  /** What the lamp was on for, and what it gave, in this pass so far. */
  onUs: u64; // explored: not
  doseUs: u64; // explored: not
  /** Of the plan, from 0. */
  pass: i32;
  /** The piece with which the next pulse begins, or the one under way began. */
  piece: i32;
  /** The pulse under way or next of a pass that is given in many, from 1. */
  pulse: i32; // explored: up to 3
  pauses: i32; // explored: up to 2
  /** The sheet was left in the middle of this pass, and gone on with: what is given now is the rest. */
  isRest: bool;
  /** The passes that the sheet has had, a bit each. */
  passes: i32;
  /** Of a pass that was cut with the power: the most that it can have had; 0 for every other. */
  mostMs: u32; // explored: not
  /** When the piece that was asked about last ends, counted from the pulse's beginning. */
  pieceEndsUs: u32; // explored: not
}
