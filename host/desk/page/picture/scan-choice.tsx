import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { hasServer } from '../server-link.js';
import { shownText } from '../shell/shown-text.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import { readScanInBrowser } from './scan-by-browser.js';
import { readScanByServer } from './scan-by-server.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** Which negative is printed, and another to be chosen or dropped here. */
export function ScanChoice({ picture }: Props) {
  const state = useMemo(() => signal({ reading: '', refusal: '' }), [picture]);
  const take = async (file: File | undefined) => {
    if (file === undefined || state.value.reading !== '') return;
    state.value = { reading: file.name, refusal: '' };
    try {
      await picture.layScan(file.name, await (hasServer() ? readScanByServer : readScanInBrowser)(file));
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
