import { useState } from 'preact/hooks';
import { TreadleError } from '../../../errors.js';
import { UnreadableText } from '../../../recipe/index.js';
import { NotDoneError } from '../server-link.js';
import { sentence, shownText } from '../shell/shown-text.js';

interface Outcome {
  readonly lines: readonly string[];
  readonly refusal: string;
}

/** What came of the last thing that was asked for, and how to ask. */
export function useOutcome() {
  const [outcome, setOutcome] = useState<Outcome>({ lines: [], refusal: '' });
  const attempt = async (work: () => readonly string[] | Promise<readonly string[]>) => {
    try {
      setOutcome({ lines: await work(), refusal: '' });
    } catch (error) {
      if (!isForPeople(error)) throw error;
      setOutcome({ lines: [], refusal: error.message });
    }
  };
  return { outcome, attempt };
}

function isForPeople(error: unknown): error is Error {
  return [NotDoneError, TreadleError, UnreadableText].some((kind) => error instanceof kind);
}

export function OutcomeWords({ lines, refusal }: Outcome) {
  return (
    <>
      <div role="status">
        {lines.map((line) => (
          <p key={line}>{sentence(shownText(line))}</p>
        ))}
      </div>
      {refusal !== '' && (
        <p role="alert" class="fault">
          {sentence(shownText(refusal))}
        </p>
      )}
    </>
  );
}
