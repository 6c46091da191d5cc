import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { followPointer } from '../shell/follow-pointer.js';
import { shownText } from '../shell/shown-text.js';
import { moved, nextPlace } from './edits.js';
import { type Place, placeKey, placeOf } from './place.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly place: Place;
  readonly what: string;
}

/** What a line of the order of work is moved by: dragged, or up and down by the arrow keys. */
export function Handle({ print, place, what }: Props) {
  return (
    <button
      type="button"
      class="grip"
      aria-label={shownText(`move ${what}: arrow up or down`)}
      title="Drag, or move by the arrow keys"
      onPointerDown={(event) => {
        if (event.button === 0) followDrag(print, place);
      }}
      onKeyDown={(event) => {
        const by = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : undefined;
        if (by === undefined) return;
        event.preventDefault();
        const to = nextPlace(print.recipe.value, place, by);
        if (to === undefined) return;
        print.change(moved(print.recipe.value, place, to), newStep('move'));
        focusAt(to);
      }}
    >
      <svg viewBox="0 0 10 16" aria-hidden="true">
        <path d="M1 3 H9 M1 8 H9 M1 13 H9" />
      </svg>
    </button>
  );
}

/** The keys stay with what was moved. */
function focusAt(place: Place): void {
  requestAnimationFrame(() =>
    document.querySelector<HTMLElement>(`[data-place="${placeKey(place)}"] > .task > .grip`)?.focus(),
  );
}

function followDrag(print: PrintOnDesk, from: Place): void {
  const step = newStep('drag');
  let place = from;
  followPointer(({ clientX, clientY }) => {
    const to = targetAt(clientX, clientY, place);
    if (to === undefined || placeKey(to) === placeKey(place)) return;
    print.change(moved(print.recipe.value, place, to), step);
    place = to;
  });
}

/** The line under the pointer that can be changed places with: a pass with a pass, a dodge with a dodge. */
function targetAt(x: number, y: number, { pass, dodge }: Place): Place | undefined {
  const key = document.elementFromPoint(x, y)?.closest<HTMLElement>('[data-place]')?.dataset.place;
  if (key === undefined) return undefined;
  const found = placeOf(key);
  if (dodge === undefined) return { pass: found.pass };
  if (found.dodge !== undefined) return found;
  return found.pass === pass ? undefined : { pass: found.pass, dodge: 0 };
}
