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
  NoBaths,
  PaperOut,
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

/** What the knob is asked, beside any light. */
export enum Question {
  /** Under which name a print is kept. */
  KeepAs,
  /** The date and the time. */
  Clock,
  /** The steps of the checkup. */
  Checkup,
  /** Whether the board is to make way for new firmware. */
  Way,
}

@unmanaged
export class Situation {
  /** Presses before this are not meant: the lamp has only just gone on or out. */
  deafUntilUs: i64; // explored: whether it is past
  /** The moment that the figures which run down are told of: they go on by the second. */
  toldUs: i64; // explored: not
  state: RunState;
  /** What the pedal will start, or is at. */
  job: Job;
  /** Why a tap at rest would start nothing. */
  refusal: Refusal;
  /** A tap or a hold may come of the press under way: it neither acted when it came nor came too soon after the lamp to be meant. */
  pressIsFresh: bool; // explored: not, beyond its timers
  /** Where the evening stood when the foot came down: a line may move it on while it is still down. */
  pressedIn: RunState; // explored: not, beyond its timers
  question: Question;
  /** Where the evening stood when it was asked. */
  askedIn: RunState;
  /** Clicks to the right since it was asked whether the board is to make way. */
  clicksToLeave: i32; // explored: not
  due: Due; // explored: not, it is heard at once
  /** The lens has been stopped down since the last light for focusing; nobody knows how it was left at power-off. */
  lensConfirmed: bool;
  /** The pedal asked for the lamp, and the log or the flash is not ready for it yet. */
  startWanted: bool;
  /** The next pulse of a pass that is given in many is due, and the flash may not be ready for it yet. */
  pulseDue: bool;
  /** The printer backed out while the lamp was on; what it gave is still to be logged. */
  leaving: bool;
  /** Something changed that the plan and the prompt hang on; a print under way goes on as it began. */
  planIsOld: bool;

  /** A pass is next or under way. */
  isPass(): bool {
    const state = this.state;
    return (
      state == RunState.Ready ||
      state == RunState.Exposing ||
      state == RunState.Paused ||
      state == RunState.BetweenDodges
    );
  }

  /** So is what is timed without the lamp: a bath, or the safelight's minutes. */
  isStep(): bool {
    const state = this.state;
    return state == RunState.StepReady || state == RunState.Timing;
  }
}
