/** Where the evening stands: what the pedal, the panel and the line all need to know. */
import { Job, RunState } from '../generated/constants';

/** Why a tap at rest starts nothing; the panel has words for each. */
export enum Refusal {
  None,
  NothingChosen,
  LogFull,
  LogBroken,
  BaseOutOfRange,
  StopsOutOfRange,
  TooLong,
  BelowLamp,
  DodgesTooLong,
  TooMany,
  NoBaths,
}

@unmanaged
class Situation {
  /** Presses before this are not meant: the lamp has only just gone on or out. */
  deafUntilUs: i64;
  state: RunState;
  job: Job;
  /** Why a tap at rest would start nothing. */
  refusal: Refusal;
  /** The lens has been stopped down since the last light for focusing. */
  lensConfirmed: bool;
  /** The pedal asked for the lamp, and the log or the flash is not ready for it yet. */
  startWanted: bool;
  /** The next pulse of a pass that is given in many is due, and the flash may not be ready for it yet. */
  pulseDue: bool;
  /** The printer backed out while the lamp was on; what it gave is still to be logged. */
  leaving: bool;
}
const SITUATION_BYTES: i32 = 24;

export const situation = changetype<Situation>(memory.data(SITUATION_BYTES, 8));

export function freshSituation(): void {
  memory.fill(changetype<usize>(situation), 0, SITUATION_BYTES);
  situation.state = RunState.Rest;
  situation.job = Job.Strip;
  // Nobody knows how the lens was left when the power went, so it has to be looked at once.
  situation.lensConfirmed = false;
}
