import type { BoardNow } from '../../server/board/told.js';
import { sentence, shownText } from '../shell/shown-text.js';
import type { BoardInHand, ToldRow } from './board-in-hand.js';

interface Props {
  readonly board: BoardInHand;
}

/** Who is there, what its display says, and what it does. */
export function Standing({ board }: Props) {
  const { now, rows, lampIsOn, happened, silentSinceMs } = board;
  return (
    <section aria-labelledby="stands">
      <h2 id="stands" aria-live="polite">
        {standsWords(now.value)}
      </h2>
      <p role="status" class="silent">
        {silentSinceMs.value !== undefined && silentWords(silentSinceMs.value)}
      </p>
      {now.value.stands === 'there' && (
        <div class="live">
          <Display rows={rows.value} />
          <div>
            <p class="lamp">{lampWords(lampIsOn.value)}</p>
            <ul aria-label="What happened last">
              {happened.value.map((words, index) => (
                <li key={index}>{sentence(shownText(words))}</li>
              ))}
            </ul>
          </div>
        </div>
      )}
    </section>
  );
}

/** A board tells what it shows when that changes: a row that has not is not drawn as an empty one. */
function Display({ rows }: { readonly rows: readonly ToldRow[] }) {
  if (rows.every((text) => text === undefined))
    return <p>What its display shows stands here as soon as it changes.</p>;
  return (
    <div>
      <section class="panel" aria-label="Its display">
        {rows.map((text, row) => (
          <p class="row" key={row}>
            {text ?? '...'}
          </p>
        ))}
      </section>
      {rows.includes(undefined) && <p>A row of ... has not changed since the desk found the board.</p>}
    </div>
  );
}

function lampWords(isOn: boolean | undefined): string {
  if (isOn === undefined) return 'Whether the lamp is on stands here as soon as that changes.';
  return `The lamp is ${isOn ? 'on' : 'off'}.`;
}

function silentWords(sinceMs: number): string {
  const since = new Date(sinceMs).toLocaleTimeString();
  return `Nothing has come from the board since ${since}, though it is asked: what stands here is what it told last.`;
}

function standsWords(now: BoardNow): string {
  switch (now.stands) {
    case 'looking':
      return 'Looking for the board...';
    case 'none':
      return sentence(now.words);
    case 'lost':
      return `${sentence(now.words)}. It is looked for, and all goes on when it is back.`;
    case 'there': {
      const { id, name, path, version } = now;
      return `${name === '' ? `Board ${id}` : `${name} (${id})`} at ${path}, version ${version}`;
    }
  }
}
