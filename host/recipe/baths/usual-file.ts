import { usualBaths } from '../../../shared-protocol/usual-baths.js';
import { writeBaths } from './baths.js';

const notes = [
  'Common practice, no source: replace by the data sheet of your own chemistry and paper.',
  'Fibre paper is washed without a washing aid here, and so for an hour.',
  'Wear gloves and mind your eyes; air the room; keep chemistry from food, drink and children.',
  "The makers' safety data sheets and your local rules, also on disposal, go before this file.",
];

/** The text of the baths file to start from: the row that a board has until another is set. */
export function usualBathsFile(): string {
  return writeBaths(usualBaths, notes);
}
