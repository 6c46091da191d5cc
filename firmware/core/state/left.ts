/** A sheet that was left before it had all its light, until another has light or sheets go to the baths. */
import { Job } from '../generated/constants';

@unmanaged
export class Left {
  /** From when on it has been out in the safelight, if it was told of. */
  outSinceUs: i64; // explored: not
  /** What it is for; None when there is no such sheet. */
  job: Job;
  /** A tap at rest goes on with it. */
  isOffered: bool;
  /** The power was cut from it: what it is given from lies on the desk. */
  isFromShelf: bool;
  wasOut: bool; // explored: not
}
