/** What is timed without the lamp: sheets in a bath, or the safelight's minutes. */
import { Job } from '../generated/constants';

@unmanaged
export class Timed {
  startedUs: i64; // explored: not
  elapsedSeconds: i32; // explored: in steps of 20, while a step is under way
  /** The bath that is next or under way, from 0, and how many sheets go in together. */
  bath: i32; // explored: exactly, while a step is under way
  sheets: i32;
  /** The bath's time, which the first tone may change while it is under way. */
  wholeSeconds: i32; // explored: in steps of 20, while a step is under way
  /** When the first tone showed; 0 when it has not, or was not waited for. */
  firstToneMs: u32; // explored: up to 1, while a step is under way
  /** What was chosen before a tap led to the baths, to go back to; None when the baths were chosen themselves. */
  jobBefore: Job;
  /** How long the paper had been out when it went in. */
  outMs: u32; // explored: not
  /** What had gone through the bath before the knob said that it was mixed fresh. */
  sheetsBefore: i32; // explored: not
  areaBefore: u32; // explored: not
}
