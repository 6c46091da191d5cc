/** Into another state of the evening, and back to rest. */
import { Job, RunState } from '../generated/constants';
import { isBaths } from '../jobs/kinds';
import { NO_FIGURE } from '../state/chosen';
import { Lit } from '../state/light';
import { chosen, light, situation, timed } from '../state/state';
import { forgetFirstValues } from '../storage/shelf';
import { stopTimer, Timer } from '../timers/timers';
import { lightRoom } from './lamp-control';
import { planJob } from './planned-job';

/** A foot that started the lamp is not asked again so soon; nor can it have meant a lamp that just went out. */
export const DEAF_US: i64 = 250_000;
export const SECOND_US: i64 = 1_000_000;

export function enter(state: RunState, nowUs: i64): void {
  if (state != RunState.Rest) forgetFirstValues();
  situation.state = state;
  situation.toldUs = nowUs;
  chosen.figure = NO_FIGURE;
  stopTimer(Timer.Second);
  stopTimer(Timer.Piece);
  stopTimer(Timer.Pulse);
  situation.pulseDue = false;
  if (state != RunState.Exposing) lightRoom();
}

export function goToRest(nowUs: i64): void {
  situation.startWanted = false;
  leaveBaths();
  if (light.lit != Lit.Paper) planJob();
  enter(RunState.Rest, nowUs);
}

/** Back to what was chosen before, if the baths followed on it. */
export function leaveBaths(): void {
  if (isBaths(situation.job) && timed.jobBefore != Job.None) situation.job = timed.jobBefore;
  timed.jobBefore = Job.None;
}

/** Plans what was chosen anew, and from `done` goes back to rest, since another sheet would be something else. */
export function planAnew(nowUs: i64): void {
  if (situation.state == RunState.Done) goToRest(nowUs);
  else planJob();
}
