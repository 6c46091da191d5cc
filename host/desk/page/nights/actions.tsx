import type { SheetTold } from '../../server/nights/told.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import type { LookingBack } from './looking-back.js';
import { isSameSheet } from './night-words.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
  readonly sheet: SheetTold;
}

/** What can be made of a print that was given. */
export function Actions({ looking, print, sheet }: Props) {
  const { cut } = sheet;
  if (cut !== undefined)
    return (
      <p class="actions">
        Put it on the desk as if{' '}
        <button type="button" onClick={() => void looking.again(sheet, print, 'all')}>
          all of that fell
        </button>{' '}
        <button type="button" onClick={() => void looking.again(sheet, print, 'none')}>
          none of it fell
        </button>
      </p>
    );
  return (
    <p class="actions">
      <button type="button" onClick={() => void looking.again(sheet, print)}>
        Put it on the desk again
      </button>
      <button type="button" onClick={() => void looking.compare(sheet)}>
        {compareWords(looking.first.value, sheet)}
      </button>
      <button type="button" onClick={() => void looking.map(sheet)}>
        Printing map
      </button>
    </p>
  );
}

function compareWords(first: SheetTold | undefined, sheet: SheetTold): string {
  if (first === undefined) return 'Compare it';
  return isSameSheet(first, sheet) ? 'Compare with... (choose another sheet)' : `Compare with ${first.name}`;
}
