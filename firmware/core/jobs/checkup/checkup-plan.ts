/** The lamp's relay pulls in a hundred times at a stroke, as no evening asks of the supply. */
import { ExposureKind } from '../../generated/constants';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { addPulses } from '../pulsed-pass';

const PULL_INS: i32 = 100;
/** Long enough for a relay to close (hardware-notes/relay.md: 10 to 50 ms). */
const PULL_IN_MS: i32 = 100;

export function planPullIns(): PlanCode {
  eveningPlan.begin(true);
  addPulses(eveningPlan, ExposureKind.Checkup, 0, PULL_INS, PULL_INS * PULL_IN_MS);
  return eveningPlan.code;
}
