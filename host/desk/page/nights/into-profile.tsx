import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { filterText } from '../../../daylight/filters/filter-table.js';
import type { StripTold } from '../../server/strips/told.js';
import { filterTable } from '../order-of-work/filter-table.js';
import { listPapers, papers } from '../paper/paper-on-desk.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import type { StripOnDesk } from './strip-on-desk.js';

interface Props {
  readonly strip: StripOnDesk;
  readonly print: PrintOnDesk;
  readonly told: StripTold;
}

/** What was read goes to what is known of its paper. */
export function IntoProfile({ strip, print, told }: Props) {
  const paper = useSignal(print.recipe.value.paper);
  const developer = useSignal('');
  const filter = useSignal('');
  const isAsked = told.filter === '';
  useEffect(() => void listPapers(), []);
  const keep = async () => {
    const said = isAsked ? filter.value : '';
    await strip.keepFor({ paper: paper.value, developer: developer.value, filter: said });
    await listPapers();
  };
  if (told.keptIn.length > 0)
    return <p role="status">Kept. {told.keptIn.map((line) => shownText(line)).join(' ')}</p>;
  return (
    <p class="actions">
      <label>
        keep it for paper{' '}
        <input
          list="papers-measured"
          maxLength={80}
          value={paper.value}
          onInput={({ currentTarget }) => (paper.value = currentTarget.value)}
        />
      </label>
      <label>
        in developer{' '}
        <input
          maxLength={80}
          placeholder="the last"
          value={developer.value}
          onInput={({ currentTarget }) => (developer.value = currentTarget.value)}
        />
      </label>
      {isAsked ? (
        <label>
          through filter{' '}
          <input
            list="filters-known"
            placeholder="2, or none"
            value={filter.value}
            onInput={({ currentTarget }) => (filter.value = currentTarget.value)}
          />
        </label>
      ) : (
        <span>through {shownText(filterText(told.filter))}, as the log has it</span>
      )}
      <datalist id="filters-known">
        {filterTable.value.filters.map((each) => (
          <option key={each.filter} value={each.filter === '' ? 'none' : each.filter} />
        ))}
      </datalist>
      <datalist id="papers-measured">
        {[...new Set(papers.value.map((each) => each.paper))].map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <button
        type="button"
        disabled={paper.value.trim() === '' || (isAsked && filter.value.trim() === '')}
        onClick={() => void keep()}
      >
        Keep it in the paper's profile
      </button>
    </p>
  );
}
