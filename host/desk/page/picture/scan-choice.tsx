import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { answerTo, hasServer, NotDoneError } from '../server-link.js';
import { shownText } from '../shell/shown-text.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import type { ScanPixels } from './print-maker.js';
import { readScanInBrowser } from './scan-by-browser.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** The server takes no more: it is said before the file is sent. */
const MOST_SCAN_BYTES = 800_000_000;

/** Which negative is printed, and another to be chosen or dropped here. */
export function ScanChoice({ picture }: Props) {
  const state = useMemo(() => signal({ reading: '', refusal: '' }), [picture]);
  const take = async (file: File | undefined) => {
    if (file === undefined || state.value.reading !== '') return;
    state.value = { reading: file.name, refusal: '' };
    try {
      await picture.layScan(file.name, await readScan(file));
      state.value = { reading: '', refusal: '' };
    } catch (error) {
      state.value = { reading: '', refusal: (error as Error).message };
    }
  };
  const { reading, refusal } = state.value;
  return (
    <section
      class="scan"
      aria-label="The scan"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        void take(event.dataTransfer?.files[0]);
      }}
    >
      <label>
        {picture.scanName.value === ''
          ? 'The invented negative of the demonstration. Your scan, chosen or dropped here:'
          : `Negative: ${shownText(picture.scanName.value)}. Another:`}
        <input
          type="file"
          accept={hasServer() ? 'image/tiff,image/png,image/jpeg,.tif,.tiff' : 'image/png,image/jpeg'}
          onChange={({ currentTarget }) => void take(currentTarget.files?.[0])}
        />
      </label>
      {reading !== '' && <p role="status">Reading {shownText(reading)} ...</p>}
      {refusal !== '' && <p role="alert">{shownText(refusal)}</p>}
    </section>
  );
}

/** As the server reads it, or the browser where there is none. @throws NotDoneError */
async function readScan(file: File): Promise<ScanPixels> {
  if (!hasServer()) return readScanInBrowser(file);
  if (file.size > MOST_SCAN_BYTES)
    throw new NotDoneError(
      `${file.name} has ${Math.round(file.size / 1e6)} MB; a scan may have ${MOST_SCAN_BYTES / 1e6}: scan it at fewer dots an inch, or as grey`,
    );
  const query = new URLSearchParams({ name: file.name });
  const answer = await answerTo(`/api/scan?${query}`, { method: 'POST', body: file });
  const numbers = new Uint16Array(await answer.arrayBuffer());
  return { width: numbers[0]!, height: numbers[1]!, samples: numbers.subarray(2) };
}
