import { useEffect } from 'preact/hooks';
import { filterText, knownFilter } from '../../../daylight/filters/filter-table.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { chosenPaper, listPapers, paperInUse, paperRefusal, papers } from './paper-on-desk.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** On which paper the print is looked at, and which figures of it are measured. */
export function PaperChoice({ print }: Props) {
  useEffect(() => void listPapers(), []);
  if (papers.value.length === 0) return null;
  return (
    <div>
      <p class="look">
        <label>
          on paper
          <select
            value={`${chosenPaper.value}`}
            onFocus={() => void listPapers()}
            onChange={({ currentTarget: { value } }) => {
              chosenPaper.value = value === 'recipe' || value === 'common' ? value : Number(value);
            }}
          >
            <option value="recipe">that the recipe names</option>
            <option value="common">as is common</option>
            {papers.value.map(({ name }, at) => (
              <option key={name} value={`${at}`}>
                {shownText(name)}
              </option>
            ))}
          </select>
        </label>
      </p>
      <Measured print={print} />
      {paperRefusal.value !== '' && <p role="alert">{shownText(paperRefusal.value)}</p>}
    </div>
  );
}

function Measured({ print }: Props) {
  const told = paperInUse.value;
  if (told === undefined) return <p>Its figures are common practice: nothing was measured of it.</p>;
  const filters = [...new Set(print.recipe.value.passes.map(({ filter }) => filter))];
  const words = filters.map((filter) => {
    const known = knownFilter(told.table, filter)?.filter;
    return known === undefined ? `${filterText(filter)}: not known.` : told.filterWords[known]!;
  });
  return <p>{shownText([told.words, ...words].join(' '))}</p>;
}
