import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { filterText } from '../../../daylight/filters/filter-table.js';
import { filterTable } from '../order-of-work/filter-table.js';
import { shownText } from '../shell/shown-text.js';

interface Props {
  /** As the log names it; empty where it names none, and then the printer is asked. */
  readonly inLog: string;
  readonly said: Signal<string>;
}

/** Whether a strip's filter is still to be said. */
export function lacksFilter({ inLog, said }: Props): boolean {
  return inLog === '' && said.value.trim() === '';
}

/** Through what a strip was exposed: as the log has it, or to be said. */
export function ThroughFilter({ inLog, said }: Props) {
  const known = useId();
  if (inLog !== '') return <span>through {shownText(filterText(inLog))}, as the log has it</span>;
  return (
    <>
      <label>
        through filter{' '}
        <input
          list={known}
          placeholder="2, or none"
          value={said.value}
          onInput={({ currentTarget }) => (said.value = currentTarget.value)}
        />
      </label>
      <datalist id={known}>
        {filterTable.value.filters.map((each) => (
          <option key={each.filter} value={each.filter === '' ? 'none' : each.filter} />
        ))}
      </datalist>
    </>
  );
}
