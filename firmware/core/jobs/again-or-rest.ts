/** Whether a pass is given again, or what is left of it. */
import { isGiven } from '../plan/giving';
import { ascii } from '../protocol/texts';
import { put } from '../rows/row';
import { given } from '../state/state';

/** Behind the pass's number; false where it is neither. */
export function putAgainOrRest(): bool {
  const isAgain = isGiven(given.pass);
  if (isAgain) put(ascii(' again'));
  else if (given.isRest) put(ascii(' rest'));
  return isAgain || given.isRest;
}
