/** What was given last and is to be read on paper. */
import { Job } from '../generated/constants';

@unmanaged
export class Reading {
  /** What the sheet given last was for, if it has not been read yet; otherwise None. */
  unread: Job;
  sheet: i32; // explored: not
  /** Where the knob stands; 0 is all too dark, or no band that differs. */
  choice: i32;
  /** The strip was read, and the lens is to be stopped down so far; 0 while the strip is being read. */
  stopsDown: i32;
  /** Of a strip: it was for a negative that has no recipe yet. */
  isNewNegative: bool; // explored: not
  /** Of a bracket: which pass of the recipe, and the offset of its first variant. */
  pass: i32; // explored: not
  firstStops120: i32; // explored: not
}
