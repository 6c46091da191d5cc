/**
 * The knob before an exposure or a bath: a push goes from one figure to the next, a turn changes it, and what is
 * planned changes with it at once. Once a sheet has had light, only the pass to be given next can be turned.
 */
import { RunState } from '../generated/constants';
import { figureAfter, figureValue, isPrint, logFigure, nextFigure, setFigure } from '../jobs/kinds';
import { markRecipeChanged } from '../jobs/recipe/recipe-in-use';
import { slowTurn } from '../knob/turn-speed';
import { beginPass } from '../plan/giving';
import { eveningPlan } from '../plan/plan';
import { NEXT_PASS, NO_FIGURE } from '../state/chosen';
import { chosen, given, situation } from '../state/state';
import { planAsItIs } from './planned-job';
import { noteFilter } from './sheet';

/** A push: the next figure. */
export function goToNextFigure(nowUs: i64): void {
  logTurning(nowUs);
  // The rest of a pass is given as it was planned.
  if (given.isRest && situation.state == RunState.Ready) return;
  const before = chosen.figure;
  if (before == NEXT_PASS) keepOrder();
  const next = nextFigure(situation.job);
  // Where there is no other figure, the way round leads back to what comes.
  chosen.figure = before == NEXT_PASS && next == NEXT_PASS ? NO_FIGURE : next;
  chosen.passDue = given.pass;
}

/** Only a tap takes another order. */
function keepOrder(): void {
  if (chosen.passDue < eveningPlan.passCount) goToPass(chosen.passDue);
}

/** A tap on what the panel asks before a light: it is so. */
export function answerBeforeLight(): void {
  if (chosen.figure != NO_FIGURE) chosen.figure = NO_FIGURE;
  else noteFilter();
}

/** A turn: false when the figure cannot be so, and stays. */
export function turnFigure(clicks: i32, nowUs: i64): bool {
  if (chosen.figure == NO_FIGURE) goToNextFigure(nowUs);
  if (chosen.figure == NO_FIGURE) return false;
  if (chosen.figure == NEXT_PASS) return turnNextPass(clicks);
  const isFine = tryFigure(clicks) || (slowTurn() && tryFigure(clicks));
  if (isFine) {
    chosen.isUnlogged = true;
    if (isPrint(situation.job)) markRecipeChanged();
  }
  // What has fewer passes than before had no light yet, and stands at its first.
  beginPass(given.pass);
  return isFine;
}

function tryFigure(clicks: i32): bool {
  const job = situation.job;
  const before = figureValue(job);
  // The way back begins where the knob stands, and not at what could not be.
  const turnedStops120 = chosen.turnStops120;
  const turnEndMs = chosen.turnEndMs;
  setFigure(job, figureAfter(job, before, clicks));
  if (planAsItIs()) return true;
  setFigure(job, before);
  chosen.turnStops120 = turnedStops120;
  chosen.turnEndMs = turnEndMs;
  planAsItIs();
  return false;
}

function turnNextPass(clicks: i32): bool {
  const next = given.pass + clicks;
  if (next < 0 || next >= eveningPlan.passCount) return false;
  goToPass(next);
  return true;
}

function goToPass(pass: i32): void {
  planAsItIs();
  beginPass(pass);
}

/** What was turned goes into the log when the knob leaves it, or when the sheet is begun. */
export function logTurning(nowUs: i64): void {
  if (!chosen.isUnlogged) return;
  chosen.isUnlogged = false;
  logFigure(situation.job, nowUs);
}
