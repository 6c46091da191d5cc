/** The pedal's gestures: a press, and then either a tap, told when it is let go, or a hold, told at 0.8 s. */
import { checkup, hands, pedalContact } from '../state/state';
import { setTimer, stopTimer, Timer } from '../timers/timers';

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

export function startPedal(nowUs: i64): void {
  hands.bootedAtUs = nowUs;
}

/** Also while a press is still to be told from a spike. */
export function pedalIsDown(): bool {
  return pedalContact.down || pedalContact.level;
}

export function takePedalEdge(down: bool, nowUs: i64): void {
  checkup.pedalEdges++;
  pedalContact.edge(down, nowUs);
  setTimer(Timer.PedalContact, pedalContact.settlesAtUs());
}

/** Timer.PedalContact has come. */
export function settlePedal(nowUs: i64): Gesture {
  const changed = pedalContact.settle(nowUs);
  setTimer(Timer.PedalContact, pedalContact.settlesAtUs());
  if (!changed) return Gesture.None;
  return pedalContact.down ? press(nowUs) : release();
}

/** Timer.PedalHold has come. */
export function holdPedal(): Gesture {
  stopTimer(Timer.PedalHold);
  hands.pedalIsHeld = true;
  return Gesture.Hold;
}

/** Timer.PedalStuck has come. */
export function jamPedal(): Gesture {
  stopTimer(Timer.PedalStuck);
  hands.pedalIsStuck = true;
  return Gesture.Stuck;
}

function press(nowUs: i64): Gesture {
  hands.pressedAtUs = nowUs;
  hands.pedalIsHeld = false;
  if (nowUs - hands.bootedAtUs <= POWER_UP_US) {
    hands.pedalIsStuck = true;
    return Gesture.Stuck;
  }
  setTimer(Timer.PedalHold, nowUs + HOLD_US);
  setTimer(Timer.PedalStuck, nowUs + STUCK_US);
  return Gesture.Press;
}

function release(): Gesture {
  stopTimer(Timer.PedalHold);
  stopTimer(Timer.PedalStuck);
  const spent = hands.pedalIsHeld || hands.pedalIsStuck;
  hands.pedalIsHeld = false;
  hands.pedalIsStuck = false;
  return spent ? Gesture.Release : Gesture.Tap;
}
