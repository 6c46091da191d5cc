/**
 * The kinds of log entries as the flash keeps them. The numbers outlive firmware versions, so they are written
 * here and never reused, and the payload of each is the codec's record of a frozen message.
 */
export enum EntryKind {
  Started = 1,
  Clock = 2,
  Sheet = 3,
  Exposure = 4,
  Lens = 5,
  PedalStuck = 6,
  StripReading = 7,
  RecipeChange = 8,
  RecipeVersion = 9,
  StoppedDown = 10,
  SheetEnded = 11,
  BathUsed = 12,
  TestResult = 13,
}

/** What an exposure's ended part adds to its begun one; 10 of the 16 bytes that the log has for it. */
@unmanaged
export class ExposureResult {
  onMs: u32;
  doseMs: u32;
  outcome: u8;
  pauses: u8;
}
export const EXPOSURE_RESULT_BYTES: i32 = 10;
