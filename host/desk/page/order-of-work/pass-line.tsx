import { minus } from '../../../pages/map/work.js';
import { formatStops, type RecipePass } from '../../../recipe/index.js';
import type { PlannedPass } from '../../../recipe/planner/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { DodgeLine } from './dodge-line.js';
import { withNewDodge, without, withPass } from './edits.js';
import { Faults } from './faults.js';
import { Handle } from './handle.js';
import { Light } from './light.js';
import { readBurn120, readFilter, readLabel, readOffset120 } from './read-fields.js';
import { TurnedField } from './turned-field.js';
import { burnTurned, stopsTurned } from './turning.js';
import { TypedField } from './typed-field.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly at: number;
  readonly pass: RecipePass;
  /** Not there while something cannot be printed. */
  readonly planned: PlannedPass | undefined;
}

/** One pass of the order of work, with all that can be turned about it. */
export function PassLine({ print, at, pass, planned }: Props) {
  const what = `${pass.kind} ${pass.label}`;
  const change = (to: Partial<RecipePass>, step: string) =>
    print.change(withPass(print.recipe.value, at, to), step);
  const isBurn = pass.kind === 'burn';
  const rest = planned?.segments.at(-1);
  return (
    <li class={`pass ${pass.kind}`} data-place={`${at}`}>
      <div class="task">
        <Handle print={print} place={{ pass: at }} what={what} />
        <span class="kind">{pass.kind}</span>
        <TypedField
          label={`name of ${what}`}
          quiet
          text={pass.label}
          read={readLabel}
          take={(label) => change({ label }, newStep('label'))}
        />
        <TypedField
          label={`filter of ${what}`}
          quiet
          text={pass.filter}
          read={readFilter}
          take={(filter) => change({ filter }, newStep('filter'))}
          more={{ list: 'filters', placeholder: 'no filter' }}
        />
        <TurnedField
          label={`stops of ${what}`}
          quiet
          value={pass.stops120}
          format={(stops120) => minus(formatStops(stops120))}
          read={isBurn ? readBurn120 : readOffset120}
          turned={isBurn ? burnTurned : stopsTurned}
          take={(stops120, step) => change({ stops120 }, step)}
        />
        <Light doseMs={planned?.doseMs} />
        <button
          type="button"
          class="small"
          aria-label={shownText(`dodge in ${what}`)}
          onClick={() => print.change(withNewDodge(print.recipe.value, at), newStep('dodge'))}
        >
          dodge
        </button>
        <button
          type="button"
          class="small"
          aria-label={shownText(`take ${what} away`)}
          onClick={() => print.change(without(print.recipe.value, { pass: at }), newStep('away'))}
        >
          ×
        </button>
      </div>
      <Faults print={print} place={{ pass: at }} />
      {pass.dodges.length > 0 && (
        <ol class="dodges">
          {pass.dodges.map((dodge, index) => (
            <DodgeLine
              key={index}
              print={print}
              place={{ pass: at, dodge: index }}
              dodge={dodge}
              planned={planned?.segments[index]}
            />
          ))}
          {rest?.kind === 'open' && (
            <li class="rest">
              <span>no dodge{rest.joined && ', without a stop before it'}</span>
              <Light doseMs={rest.doseMs} />
            </li>
          )}
        </ol>
      )}
    </li>
  );
}
