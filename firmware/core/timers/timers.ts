/**
 * Everything that the core waits for. The board keeps one deadline; this keeps a few of them, and hands them
 * out in order of time, so that nothing depends on how late the board's own alarm is served.
 */
import { wakeAtUs } from '../board';
import { NEVER } from '../state/never';
import { TIMER_COUNT, timersDue } from '../state/state';

/** Of two that are due at the same moment, the one that stands first here goes first. */
export enum Timer {
  PedalContact,
  KnobContact,
  PedalHold,
  PedalStuck,
  KnobHold,
  /** The next piece of a pulse that runs through its dodges. */
  Piece,
  /** The next pulse of a pass that is given in many. */
  Pulse,
  /** Each second of a pulse, of a focus light, of a bath. */
  Second,
  /** Paper lies out for longer than the safelight allows. */
  PaperOut,
  /** The next length of a signal. */
  Sound,
}
let askedForUs: i64 = NEVER;
/** The timer that is due first, kept here because every event asks for it, and few change it. */
let first: i32 = 0;

/** After power-up nothing is waited for. */
export function clearTimers(): void {
  for (let timer = 0; timer < TIMER_COUNT; timer++) store<i64>(timersDue + ((<usize>timer) << 3), NEVER);
}

/** A later call replaces an earlier one; NEVER takes it back. */
export function setTimer(timer: Timer, atUs: i64): void {
  const isFirst = timer == first;
  const isLater = atUs > dueUs(timer);
  store<i64>(timersDue + ((<usize>timer) << 3), atUs);
  if (isFirst && isLater) first = earliest();
  else if (atUs < dueUs(first) || (atUs == dueUs(first) && timer < first)) first = timer;
}

export function stopTimer(timer: Timer): void {
  setTimer(timer, NEVER);
}

export function dueUs(timer: i32): i64 {
  return load<i64>(timersDue + ((<usize>timer) << 3));
}

/** The timer that is due first, and due by `nowUs`; -1 when none is. */
export function firstDue(nowUs: i64): i32 {
  return dueUs(first) <= nowUs ? first : -1;
}

/** Asks the board for the next deadline, if that has changed. */
export function askForDeadline(): void {
  const nextUs = dueUs(first);
  if (nextUs == askedForUs) return;
  askedForUs = nextUs;
  wakeAtUs(nextUs);
}

/** The board has served its deadline, so that the next one must be asked for even if it is the same. */
export function deadlineServed(): void {
  askedForUs = NEVER;
}

function earliest(): i32 {
  let earliest = 0;
  for (let timer = 1; timer < TIMER_COUNT; timer++) {
    if (dueUs(timer) < dueUs(earliest)) earliest = timer;
  }
  return earliest;
}
