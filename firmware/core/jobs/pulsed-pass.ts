/** A pass in which the relay's time is what is planned, in one pulse or many: nothing is made up for. */
import { setLamp } from '../arithmetic/lamp';
import { ExposureKind } from '../generated/constants';
import { PieceKind, Plan, STOPS_FIRST } from '../plan/plan';
import { refillPulse } from '../plan/pulses';

/** From here on the lamp is taken as if it had neither lag nor rise. `doseMs` is of all pulses together. */
export function addPulses(plan: Plan, kind: ExposureKind, patch: i32, pulses: i32, doseMs: i32): void {
  setLamp(0, 0);
  const index = plan.passCount;
  plan.addPass(kind, doseMs);
  const pass = plan.pass(index);
  pass.patch = u8(patch);
  pass.pulses = u8(pulses);
  plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs / pulses);
  refillPulse(plan, index);
}
