/** What the printer chose and turned, beside the recipe in use and the strips, which lie in memory as records. */

@unmanaged
export class Chosen {
  /** The figure that the knob is at; NO_FIGURE, NEXT_PASS, or one that the kind of work numbers for itself. */
  figure: i32;
  /** Of a figure of the recipe: its pass and dodge, from 0; the dodge is counted within its pass. */
  figurePass: i32; // explored: not
  figureDodge: i32; // explored: not
  /** The pass that was next when the knob came to that figure; behind the last one where none was. */
  passDue: i32;
  /** A figure was turned, and the log does not have it yet. */
  isUnlogged: bool; // explored: not
  /** The recipe in use is not as the shelf has it: the knob turned something, or it was made on the board. */
  recipeIsChanged: bool; // explored: not
  /** What is not kept of it was found on paper: another recipe in its place does not take it away. */
  baseIsFound: bool; // explored: not
  /** The strip is for a negative that has no recipe yet, whatever is in use. */
  isNewNegative: bool;
  /** The number of the negative under which a print would be kept; 0 for the name that it has. */
  keepAs: i32; // explored: not
  keepsOwnName: bool; // explored: not
  /** Such a recipe gave way to one from the shelf, and the log does not have it yet. */
  turnsAreGone: bool; // explored: not
  /** The shelf has a newer version of the recipe in use; it is taken when the next plan is made. */
  recipeIsOld: bool; // explored: not
  /** The pass of the recipe that a bracket is about, from 0. */
  bracketPass: i32; // explored: not
  /** The lag of the lamp test's first patch, the safelight test's light grey. */
  firstLagMs: i32; // explored: not
  greyMs: i32; // explored: not
  /** The plain exposure, and its filter's place among those that the knob offers. */
  plainMs: i32; // explored: not
  plainFilter: i32; // explored: not
  /** The time that a row of turns began with, how far it went, and where that led. */
  turnOriginMs: i32; // explored: not
  turnStops120: i32; // explored: not
  turnEndMs: i32; // explored: not
}

export const NO_FIGURE: i32 = 0;
/** Which pass is given next. */
export const NEXT_PASS: i32 = 1;
/** From here on kinds of work number their own. */
export const FIRST_OWN_FIGURE: i32 = 2;
