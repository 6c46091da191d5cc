import { useState } from 'preact/hooks';
import { filterText } from '../../../daylight/filters/filter-table.js';
import { filterWords } from '../../../daylight/revise/account-words.js';
import { refilterRecipe } from '../../../daylight/revise/revise.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { FilterField } from './figure-field.js';
import { filterTable } from './filter-table.js';
import { OutcomeWords, useOutcome } from './outcome.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** Another filter for a pass, with its factor on the pass's time. */
export function ChangeFilter({ print }: Props) {
  const [chosen, setPass] = useState(0);
  const [to, setTo] = useState(filterTable.peek().filters[0]!.filter);
  const { outcome, attempt } = useOutcome();
  const { passes } = print.recipe.value;
  const pass = Math.min(chosen, passes.length - 1);
  const change = () => {
    let lines: readonly string[] = [];
    print.revise((recipe, at) => {
      const made = refilterRecipe(loadPlanner(), filterTable.value, recipe, pass, to, at);
      lines = filterWords(pass + 1, recipe.passes[pass]!, made.account);
      return made.recipe;
    });
    return lines;
  };
  return (
    <fieldset>
      <legend>Another filter</legend>
      <div class="figures">
        <label>
          for
          <select value={pass} onChange={({ currentTarget }) => setPass(Number(currentTarget.value))}>
            {passes.map(({ kind, label, filter }, at) => (
              <option value={at} key={at}>
                {shownText(`${kind} ${label}, ${filterText(filter)}`)}
              </option>
            ))}
          </select>
        </label>
        <FilterField label="to" value={to} take={setTo} />
        <button type="button" onClick={() => void attempt(change)}>
          Change it by its factor
        </button>
      </div>
      <OutcomeWords {...outcome} />
    </fieldset>
  );
}
