/** When the board keeps the safelight off though the lamp is: on the sheet that tests it, or the dark, nothing else may show. */
import { CheckupStep, Job, RunState } from '../generated/constants';
import { isBaths, isFogTest } from '../jobs/kinds';
import { checkup, situation, timed } from '../state/state';

/** From the first grey until the sheet went through the baths, but for the minutes that the safelight is tested for. */
export function isSafelightOff(): bool {
  if (situation.job == Job.Checkup) return checkupPullsSafelight();
  const isInBaths = isBaths(situation.job);
  const job = isInBaths ? timed.jobBefore : situation.job;
  if (!isFogTest(job)) return false;
  switch (situation.state) {
    case RunState.Rest:
    case RunState.Focus:
    case RunState.LensCheck:
    case RunState.Choosing:
    case RunState.Stuck:
      return false;
    case RunState.Timing:
      return isInBaths || job == Job.StrayLightTest;
    case RunState.Done:
      return !isInBaths;
    default:
      return true;
  }
}

/** In its step of the checkup the relay clicks each second; else that hangs on nothing. */
function checkupPullsSafelight(): bool {
  return (
    situation.state == RunState.Asking && checkup.step == CheckupStep.Safelight && (checkup.seconds & 1) != 0
  );
}
