/**
 * The knob's gestures: a push, told when it is let go, or a hold, told at 0.8 s. Turning comes as detents. A knob that
 * is down at power-up is heard when it is next pushed.
 */
import { HOLD_US } from '../pedal/pedal';
import { hands, knobContact } from '../state/state';
import { setTimer, stopTimer, Timer } from '../timers/timers';

export enum KnobGesture {
  None,
  Push,
  Hold,
}

export function takeKnobEdge(down: bool, nowUs: i64): void {
  knobContact.edge(down, nowUs);
  setTimer(Timer.KnobContact, knobContact.settlesAtUs());
}

/** Timer.KnobContact has come, at just the time at which the contact has changed. */
export function settleKnob(nowUs: i64): KnobGesture {
  knobContact.settle(nowUs);
  stopTimer(Timer.KnobContact);
  if (knobContact.down) {
    hands.pushIsFresh = true;
    setTimer(Timer.KnobHold, nowUs + HOLD_US);
    return KnobGesture.None;
  }
  stopTimer(Timer.KnobHold);
  return hands.pushIsFresh ? KnobGesture.Push : KnobGesture.None;
}

/** The foot came: nothing more comes of a push under way. */
export function overruleKnob(): void {
  stopTimer(Timer.KnobHold);
  hands.pushIsFresh = false;
}

/** Timer.KnobHold has come. */
export function holdKnob(): KnobGesture {
  overruleKnob();
  return KnobGesture.Hold;
}
