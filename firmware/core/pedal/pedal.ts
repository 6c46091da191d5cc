/** The pedal's gestures: a press, and then either a tap, told when it is let go, or a hold, told at 0.8 s. */
import { setTimer, stopTimer, Timer } from '../timers/timers';
import { CONTACT_BYTES, Contact } from './contact';

export const HOLD_US: i64 = 800_000;
/** Nobody stands on a pedal for so long: it is jammed, or something lies on it. */
export const STUCK_US: i64 = 10_000_000;
/** A contact that is closed by then was closed before the power came. */
const POWER_UP_US: i64 = 50_000;

export enum Gesture {
  None,
  Press,
  Tap,
  Hold,
  Stuck,
  /** The end of a hold or of being stuck. */
  Release,
}

const contact = changetype<Contact>(memory.data(CONTACT_BYTES, 8));
let bootedAtUs: i64 = 0;
let held: bool = false;

export let pressedAtUs: i64 = 0;
/** Down at power-up or for more than 10 s, and not let go since. */
export let pedalStuck: bool = false;

export function startPedal(nowUs: i64): void {
  memory.fill(changetype<usize>(contact), 0, CONTACT_BYTES);
  bootedAtUs = nowUs;
  pedalStuck = false;
  held = false;
}

/** Also while a press is still to be told from a spike. */
export function pedalIsDown(): bool {
  return contact.down || contact.level;
}

export function pedalPin(down: bool, nowUs: i64): void {
  contact.edge(down, nowUs);
  setTimer(Timer.PedalContact, contact.settlesAtUs());
}

/** Timer.PedalContact has come. */
export function pedalSettled(nowUs: i64): Gesture {
  const changed = contact.settle(nowUs);
  setTimer(Timer.PedalContact, contact.settlesAtUs());
  if (!changed) return Gesture.None;
  return contact.down ? press(nowUs) : release();
}

/** Timer.PedalHold has come. */
export function pedalHeld(): Gesture {
  stopTimer(Timer.PedalHold);
  held = true;
  return Gesture.Hold;
}

/** Timer.PedalStuck has come. */
export function pedalTooLong(): Gesture {
  stopTimer(Timer.PedalStuck);
  pedalStuck = true;
  return Gesture.Stuck;
}

function press(nowUs: i64): Gesture {
  pressedAtUs = nowUs;
  held = false;
  if (nowUs - bootedAtUs <= POWER_UP_US) {
    pedalStuck = true;
    return Gesture.Stuck;
  }
  setTimer(Timer.PedalHold, nowUs + HOLD_US);
  setTimer(Timer.PedalStuck, nowUs + STUCK_US);
  return Gesture.Press;
}

function release(): Gesture {
  stopTimer(Timer.PedalHold);
  stopTimer(Timer.PedalStuck);
  const spent = held || pedalStuck;
  held = false;
  pedalStuck = false;
  return spent ? Gesture.Release : Gesture.Tap;
}
