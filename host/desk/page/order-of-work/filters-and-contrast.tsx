import { readFilterTable } from '../../../daylight/filters/filter-table.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { ChangeFilter } from './change-filter.js';
import { Contrast } from './contrast.js';
import { ContrastByDensities } from './contrast-by-densities.js';
import { filterTable } from './filter-table.js';
import { OutcomeWords, useOutcome } from './outcome.js';
import { SplitBase } from './split-base.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** What is worked out by a table of filters: another filter, a split-grade base, and which contrast the negative needs. */
export function FiltersAndContrast({ print }: Props) {
  return (
    <details>
      <summary>Filters and contrast</summary>
      <ChangeFilter print={print} />
      <SplitBase print={print} />
      <Contrast print={print} />
      <ContrastByDensities />
      <OwnTable />
    </details>
  );
}

function OwnTable() {
  const { outcome, attempt } = useOutcome();
  const take = (file: File) =>
    attempt(async () => {
      filterTable.value = readFilterTable(new Uint8Array(await file.arrayBuffer()));
      return [];
    });
  return (
    <>
      <p class="buttons">
        <label>
          By the table '{shownText(filterTable.value.name)}'; your own, from a file:{' '}
          <input
            type="file"
            accept=".json"
            onChange={({ currentTarget: { files } }) => files?.[0] && void take(files[0])}
          />
        </label>
      </p>
      <OutcomeWords {...outcome} />
    </>
  );
}
