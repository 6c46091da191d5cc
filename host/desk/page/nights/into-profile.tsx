import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { StripTold } from '../../server/strips/told.js';
import { listPapers, papers } from '../paper/paper-on-desk.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import type { StripOnDesk } from './strip-on-desk.js';
import { lacksFilter, ThroughFilter } from './through-filter.js';

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
  useEffect(() => void listPapers(), []);
  const keep = async () => {
    await strip.keepFor({ paper: paper.value, developer: developer.value, filter: filter.value });
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
      <ThroughFilter inLog={told.filter} said={filter} />
      <datalist id="papers-measured">
        {[...new Set(papers.value.map((each) => each.paper))].map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <button
        type="button"
        disabled={paper.value.trim() === '' || lacksFilter({ inLog: told.filter, said: filter })}
        onClick={() => void keep()}
      >
        Keep it in the paper's profile
      </button>
    </p>
  );
}
