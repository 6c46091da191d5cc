/** Why nothing can be started, in at most 20 columns; the laptop tells the figures. */
import { Refusal } from '../evening/situation';

export function refusalWords(refusal: Refusal): string {
  switch (refusal) {
    case Refusal.NothingChosen:
      return 'Choose with the knob';
    case Refusal.LogFull:
      return 'Log is full: pull it';
    case Refusal.LogBroken:
      return 'Log cannot be kept';
    case Refusal.BaseOutOfRange:
      return 'Base out of range';
    case Refusal.StopsOutOfRange:
      return 'Too many stops';
    case Refusal.TooLong:
      return 'Longer than an hour';
    case Refusal.BelowLamp:
      return 'Too short for a lamp';
    case Refusal.DodgesTooLong:
      return 'Dodges exceed pass';
    case Refusal.TooMany:
      return 'Too many passes';
    default:
      return '';
  }
}
