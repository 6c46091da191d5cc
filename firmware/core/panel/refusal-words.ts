/** Why nothing can be started, in at most 20 columns; the laptop tells the figures. */

import { ascii } from '../protocol/texts';
import { Refusal } from '../state/situation';

export function refusalWords(refusal: Refusal): usize {
  switch (refusal) {
    case Refusal.NothingChosen:
      return ascii('Choose with the knob');
    case Refusal.LogFull:
      return ascii('Log full: collect it');
    case Refusal.LogBroken:
      return ascii('Log cannot be kept');
    case Refusal.BaseOutOfRange:
      return ascii('Base out of range');
    case Refusal.StopsOutOfRange:
      return ascii('Too many stops');
    case Refusal.TooLong:
      return ascii('Longer than an hour');
    case Refusal.BelowLamp:
      return ascii('Too short for a lamp');
    case Refusal.DodgesTooLong:
      return ascii('Dodges too long');
    case Refusal.NoBaths:
      return ascii('Set bath times first');
    case Refusal.PaperOut:
      return ascii('A sheet is still out');
    default:
      return ascii('');
  }
}
