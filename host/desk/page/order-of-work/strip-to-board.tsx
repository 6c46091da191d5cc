import type { StripRequest } from '../../../recipe/planner/index.js';
import { fileFromStrip } from '../../../recipe/strip-file.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { ask } from '../server-link.js';
import { OutcomeWords, useOutcome } from './outcome.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly request: StripRequest;
}

/** The strip as the pedal will start it next, through the filter of the base. */
export function StripToBoard({ print, request }: Props) {
  const { outcome, attempt } = useOutcome();
  const { filter = '' } = print.recipe.value.passes.find(({ kind }) => kind === 'base') ?? {};
  const { firstMs: first, step, patches, cover } = request;
  const strip = JSON.stringify(fileFromStrip({ notes: '', first, step, patches, cover, filter }));
  const send = async () => {
    const { words } = await ask<{ words: string }>('/api/board/strip', { strip });
    return [words];
  };
  return (
    <>
      <p class="buttons">
        <button type="button" onClick={() => void attempt(send)}>
          Send this strip
        </button>
      </p>
      <OutcomeWords {...outcome} />
    </>
  );
}
