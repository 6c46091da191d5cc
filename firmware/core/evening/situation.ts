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

/** What is to be heard, where the way from state to state does not tell; heard once. */
export enum Due {
  Nothing,
  /** Another second of light. */
  Second,
  /** What was asked for cannot be, or paper lies out too long. */
  Wrong,
  /** The foot paused the light, or the knob has the recipe kept. */
  End,
}

@unmanaged
class Situation {
  /** Presses before this are not meant: the lamp has only just gone on or out. */
  deafUntilUs: i64;
  /** The moment that the figures which run down are told of: they go on by the second. */
  toldUs: i64;
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
  due: Due;
}
const SITUATION_BYTES: i32 = 40;

export const situation = changetype<Situation>(memory.data(SITUATION_BYTES, 8));

export function freshSituation(): void {
  memory.fill(changetype<usize>(situation), 0, SITUATION_BYTES);
  situation.state = RunState.Rest;
  situation.job = Job.Strip;
  // Nobody knows how the lens was left when the power went, so it has to be looked at once.
  situation.lensConfirmed = false;
}
