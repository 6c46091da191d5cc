import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { type Place, placeKey } from './place.js';

interface Props {
  readonly print: PrintOnDesk;
  /** Left out, what is wrong with no one pass: the base, or all of them together. */
  readonly place?: Place;
}

/** What the core refuses, in its words, where it arises. */
export function Faults({ print, place }: Props) {
  const wanted = place === undefined ? '' : placeKey(place);
  const found = print.problems.value.filter(({ path }) => keyOf(path) === wanted);
  return found.map(({ message }) => (
    <p class="fault" role="alert" key={message}>
      {shownText(message)}
    </p>
  ));
}

/** ['passes', 1, 'dodges', 0] is the first dodge of the second pass. */
function keyOf([, pass, , dodge]: readonly (string | number)[]): string {
  if (typeof pass !== 'number') return '';
  return placeKey(typeof dodge === 'number' ? { pass, dodge } : { pass });
}
