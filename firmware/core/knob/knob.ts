/** The knob's gestures: a push, told when it is let go, or a hold, told at 0.8 s. Turning comes as detents. */
import { CONTACT_BYTES, Contact } from '../pedal/contact';
import { HOLD_US } from '../pedal/pedal';
import { setTimer, stopTimer, Timer } from '../timers/timers';

export enum KnobGesture {
  None,
  Push,
  Hold,
}

const contact = changetype<Contact>(memory.data(CONTACT_BYTES, 8));
/** Pushed, and neither let go nor held long enough yet. */
let fresh: bool = false;

/** After power-up; a knob that is down then is heard when it is next pushed. */
export function startKnob(): void {
  memory.fill(changetype<usize>(contact), 0, CONTACT_BYTES);
  fresh = false;
}

export function knobPin(down: bool, nowUs: i64): void {
  contact.edge(down, nowUs);
  setTimer(Timer.KnobContact, contact.settlesAtUs());
}

/** Timer.KnobContact has come. */
export function knobSettled(nowUs: i64): KnobGesture {
  const changed = contact.settle(nowUs);
  setTimer(Timer.KnobContact, contact.settlesAtUs());
  if (!changed) return KnobGesture.None;
  if (contact.down) {
    fresh = true;
    setTimer(Timer.KnobHold, nowUs + HOLD_US);
    return KnobGesture.None;
  }
  stopTimer(Timer.KnobHold);
  return fresh ? KnobGesture.Push : KnobGesture.None;
}

/** The foot came: nothing more comes of a push under way. */
export function overruleKnob(): void {
  stopTimer(Timer.KnobHold);
  fresh = false;
}

/** Timer.KnobHold has come. */
export function knobHeld(): KnobGesture {
  overruleKnob();
  return KnobGesture.Hold;
}
