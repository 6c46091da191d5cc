/**
 * What stands between a pass and its light, while it is next: a figure that the knob is at, an order of passes that it
 * asks for, or a filter to be changed. A press then lights nothing: the tap answers what the panel asks.
 */
import { SettingName } from '../generated/constants';
import { filterOfPass } from '../jobs/filters';
import { figuresShowAll } from '../jobs/kinds';
import { isGiven, passesLeftOut } from '../plan/giving';
import { isEmptyText, sameText } from '../protocol/texts';
import { settingValue } from '../settings/settings';
import { NEXT_PASS, NO_FIGURE } from '../state/chosen';
import { chosen, filterIn, given, situation } from '../state/state';

export enum Asked {
  Nothing,
  /** The knob is at a figure, and what comes is not on the screen. */
  Figure,
  /** The knob is at the passes, and the one it stands at is given in no order of its own. */
  Pass,
  /** The same, and that would leave passes out, or give one again. */
  LeaveOut,
  Again,
  /** Another filter than the one that was in. */
  Filter,
}

/** To be asked while a pass is next. */
export function askedBeforeLight(): Asked {
  if (chosen.figure == NEXT_PASS) return askedOfOrder();
  const isOther = filterIsOther();
  if (chosen.figure != NO_FIGURE && (isOther || !figuresShowAll(situation.job))) return Asked.Figure;
  return isOther ? Asked.Filter : Asked.Nothing;
}

/** What the order of passes asks; Pass where it is the recipe's own. */
export function askedOfOrder(): Asked {
  if (isGiven(given.pass)) return Asked.Again;
  return passesLeftOut(given.pass) == 0 ? Asked.Pass : Asked.LeaveOut;
}

function filterIsOther(): bool {
  const filter = filterOfPass(given.pass);
  return settingValue(SettingName.ConfirmFilter) != 0 && !isEmptyText(filter) && !sameText(filter, filterIn);
}
