/** What sounds, and what a watching laptop was told: how things stood when it was last asked. */
import { RunState } from '../generated/constants';

@unmanaged
export class Told {
  /** The signal that sounds, and the length of it that sounds or pauses now. */
  signal: i32; // explored: not
  length: i32; // explored: not
  isSounding: bool; // explored: not
  heardState: RunState; // explored: not
  heardPass: i32; // explored: not
  heardPiece: i32; // explored: not
  heardSeconds: i32; // explored: not
  laptopState: RunState; // explored: not
  laptopPlace: i32; // explored: not
  laptopRestMs: i32; // explored: not
}
