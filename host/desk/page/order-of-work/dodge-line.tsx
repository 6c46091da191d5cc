import { minus } from '../../../pages/map/work.js';
import { formatStops, type RecipeDodge } from '../../../recipe/index.js';
import type { PlannedSegment } from '../../../recipe/planner/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { withDodge, without } from './edits.js';
import { Faults } from './faults.js';
import { Handle } from './handle.js';
import { Light } from './light.js';
import { type Place, placeKey } from './place.js';
import { readDodge120, readLabel } from './read-fields.js';
import { TurnedField } from './turned-field.js';
import { dodgeTurned } from './turning.js';
import { TypedField } from './typed-field.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly place: Place;
  readonly dodge: RecipeDodge;
  readonly planned: PlannedSegment | undefined;
}

/** One dodge of a pass. */
export function DodgeLine({ print, place, dodge, planned }: Props) {
  const what = `dodge ${dodge.label}`;
  const change = (to: Partial<RecipeDodge>, step: string) =>
    print.change(withDodge(print.recipe.value, place, to), step);
  return (
    <li data-place={placeKey(place)}>
      <div class="task">
        <Handle print={print} place={place} what={what} />
        <span class="kind">dodge</span>
        <TypedField
          label={`name of ${what}`}
          quiet
          text={dodge.label}
          read={readLabel}
          take={(label) => change({ label }, newStep('label'))}
        />
        <TurnedField
          label={`stops of ${what}`}
          quiet
          value={dodge.stops120}
          format={(stops120) => minus(formatStops(stops120))}
          read={readDodge120}
          turned={dodgeTurned}
          take={(stops120, step) => change({ stops120 }, step)}
        />
        <Light doseMs={planned?.doseMs} />
        <button
          type="button"
          class="small"
          aria-label={shownText(`take ${what} away`)}
          onClick={() => print.change(without(print.recipe.value, place), newStep('away'))}
        >
          ×
        </button>
      </div>
      <Faults print={print} place={place} />
    </li>
  );
}
