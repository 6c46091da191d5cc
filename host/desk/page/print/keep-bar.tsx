import { useEffect, useState } from 'preact/hooks';
import { mostFileBytes } from '../../../recipe/index.js';
import { NotDoneError } from '../server-link.js';
import { shownText } from '../shell/shown-text.js';
import { wroteOverOther } from './draft.js';
import type { Keeping } from './keeping.js';
import { type ListedPrints, listPrints, serverKeeps } from './kept-by-server.js';
import type { PrintOnDesk } from './print-on-desk.js';
import { UndoButtons } from './undo-buttons.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly keeping: Keeping;
}

/** What is done with the print as a whole. */
export function KeepBar({ print, keeping }: Props) {
  const [isOpening, setOpening] = useState(false);
  return (
    <div class="keep">
      <div class="buttons">
        <UndoButtons print={print} />
        <button type="button" onClick={() => void keeping.begin()}>
          New
        </button>
        <button type="button" aria-expanded={isOpening} onClick={() => setOpening(!isOpening)}>
          Open
        </button>
        {serverKeeps() && (
          <button type="button" onClick={() => void keeping.keep()}>
            Keep in the archive
          </button>
        )}
        <button type="button" onClick={() => void keeping.writeFile()}>
          Write the file
        </button>
      </div>
      {isOpening && <Opening keeping={keeping} done={() => setOpening(false)} />}
      <p role="status">{shownText(keeping.said.value)}</p>
      {wroteOverOther.value && (
        <p role="alert" class="fault">
          A print is being changed in another window of this desk as well. After the next start the one that
          was changed last is there: keep each in the archive or as a file.
        </p>
      )}
      {keeping.refused.value !== '' && (
        <p role="alert" class="fault">
          {keeping.refused.value.split('\n').map((line) => (
            <span key={line}>{shownText(line)}</span>
          ))}
        </p>
      )}
    </div>
  );
}

interface OpeningProps {
  readonly keeping: Keeping;
  done(): void;
}

function Opening({ keeping, done }: OpeningProps) {
  const open = (work: Promise<void>) => void work.then(done);
  return (
    <section class="opening" aria-label="Open a print">
      <label>
        a file of yours, or drop it here{' '}
        <input
          type="file"
          accept=".json,application/json"
          onChange={({ currentTarget }) => {
            const file = currentTarget.files?.[0];
            if (file !== undefined) open(openFile(keeping, file));
          }}
        />
      </label>
      {serverKeeps() && <Listed keeping={keeping} open={open} />}
    </section>
  );
}

function Listed({ keeping, open }: { readonly keeping: Keeping; open(work: Promise<void>): void }) {
  const [found, setFound] = useState<ListedPrints>({ versions: [], files: [] });
  const [refusal, setRefusal] = useState('');
  useEffect(() => {
    listPrints().then(setFound, (error: unknown) => {
      if (error instanceof NotDoneError) setRefusal(error.message);
    });
  }, []);
  return (
    <>
      {refusal !== '' && <p role="alert">{shownText(refusal)}</p>}
      <h3>In the archive</h3>
      <ul>
        {found.versions.map(({ name, version, title, negative, content, keptMs }) => (
          <li key={content}>
            <button type="button" onClick={() => open(keeping.openVersion(content))}>
              {shownText(`${title}, version ${version}`)}
            </button>{' '}
            {shownText(`${name}, ${negative}`)}, {new Date(keptMs).toISOString().slice(0, 10)}
          </li>
        ))}
      </ul>
      {found.versions.length === 0 && <p>Nothing yet.</p>}
      <h3>In the desk's folder</h3>
      <ul>
        {found.files.map((name) => (
          <li key={name}>
            <button type="button" onClick={() => open(keeping.openFromFolder(name))}>
              {shownText(name)}
            </button>
          </li>
        ))}
      </ul>
      {found.files.length === 0 && <p>No recipe's file.</p>}
    </>
  );
}

/** A file of the person's own, from anywhere: what is changed of it goes back as a download. */
export async function openFile(keeping: Keeping, file: File): Promise<void> {
  const text = await file.slice(0, mostFileBytes + 1).text();
  await keeping.openText({ name: file.name, text, isElsewhere: true });
}
