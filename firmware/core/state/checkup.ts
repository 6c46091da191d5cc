/** The checkup at the bench: where it stands, and what was seen in its step. */
import { CheckupStep } from '../generated/constants';

@unmanaged
export class Checkup {
  step: CheckupStep;
  /** Steps that were found wrong. */
  faults: i32; // explored: up to 1
  /** The flash was to be written, to see whether it can be, and has not been yet. */
  isUnwritten: bool;
  /** From here on it is of the step alone, which begins with nothing. */
  seconds: i32; // explored: up to 3
  /** As the notice has them; see the schema. */
  first: i32; // explored: up to 3
  second: i32; // explored: up to 3
  /** Edges of the pedal's contact, as the pin showed them. */
  pedalEdges: i32; // explored: not
}
