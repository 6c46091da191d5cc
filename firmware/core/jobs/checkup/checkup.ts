/**
 * The checkup's steps, and what counts as fine in each. What a board can see by itself it judges; what only eyes and
 * ears can tell, the printer answers: a tap for yes, the knob for no.
 */
import { CheckupStep, SettingName } from '../../generated/constants';
import { noticeChecked } from '../../protocol/notices';
import { settingValue } from '../../settings/settings';
import { Checkup } from '../../state/checkup';
import { Refusal } from '../../state/situation';
import { checkup, hands, left, paper } from '../../state/state';
import { SHELF_SECTORS } from '../../storage/layout';
import { countSectors, SectorState } from '../../storage/shelf';
import { planPullIns } from './checkup-plan';

/** Each way, so that one that slips is not taken for a wire. */
const KNOB_CLICKS: i32 = 3;
const STEP_BYTES: usize = offsetof<Checkup>() - offsetof<Checkup>('seconds');

/** Not while a sheet is under way, as far as the board is told: nothing must click over it. */
export function planCheckup(): Refusal {
  planPullIns();
  const isOut = paper.isOut && settingValue(SettingName.BathFollows) != 0;
  return isOut || left.job != 0 ? Refusal.PaperOut : Refusal.None;
}

export function beginCheckupStep(step: CheckupStep): void {
  memory.fill(changetype<usize>(checkup) + offsetof<Checkup>('seconds'), 0, STEP_BYTES);
  checkup.step = step;
}

/** The first clicks were to be to the right, and count to the left. */
export function isSwapped(): bool {
  return hasTurnedLeft() && checkup.first < KNOB_CLICKS;
}

export function hasTurnedLeft(): bool {
  return checkup.second >= KNOB_CLICKS;
}

/** What comes after the clicks that tell says nothing more. */
export function countClicks(clicks: i32): void {
  if (isSwapped()) return;
  if (clicks > 0) checkup.first += clicks;
  else checkup.second -= clicks;
}

/** False for the first tap, which is what is looked at: how often the contact bounced, and how long it was closed. */
export function pedalWasSeen(nowUs: i64): bool {
  if (checkup.second != 0) return true;
  checkup.first = checkup.pedalEdges - 2;
  checkup.second = i32((nowUs - hands.pressedAtUs) / 1000);
  return false;
}

/** A sector of the shelf that fails is bad from then on. */
export function countBadSectors(): void {
  checkup.first = countSectors(SectorState.Bad);
  checkup.second = SHELF_SECTORS;
}

/** What was found is told, and counted. */
export function tellChecked(isFine: bool): void {
  if (!isFine) checkup.faults++;
  noticeChecked(checkup.step, isFine, checkup.first, checkup.second);
}
