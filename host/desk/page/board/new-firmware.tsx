import { signal } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';
import type { FlashNews } from '../../server/board/told.js';
import { answerTo } from '../server-link.js';
import { sentence, shownText } from '../shell/shown-text.js';
import { linesOf } from './lines-of.js';

/** New firmware on its way to the board, as the server tells of it. */
class FirmwareOnItsWay {
  readonly isUnderWay = signal(false);
  readonly lines = signal<readonly string[]>([]);
  readonly progress = signal<Extract<FlashNews, { what: string }> | undefined>(undefined);
  readonly trouble = signal('');

  /** @param file of the printer's own; the image that came with treadle where there is none */
  async put(file: File | undefined, older: boolean): Promise<void> {
    if (this.isUnderWay.value) return;
    this.isUnderWay.value = true;
    this.lines.value = [];
    this.trouble.value = '';
    try {
      const query = new URLSearchParams({ name: file?.name ?? '', older: String(older) });
      const { body } = await answerTo(`/api/board/flash?${query}`, { method: 'POST', body: file ?? null });
      for await (const line of linesOf(body!)) this.#hear(JSON.parse(line) as FlashNews);
    } catch (error) {
      this.trouble.value = (error as Error).message;
    }
    this.progress.value = undefined;
    this.isUnderWay.value = false;
  }

  #hear(news: FlashNews): void {
    if ('words' in news) {
      this.lines.value = [...this.lines.value, news.words];
      this.progress.value = undefined;
    } else if ('what' in news) this.progress.value = news;
    else this.trouble.value = news.trouble;
  }
}

/** The conversation of `treadle flash`: what the board is to do is allowed by the hand at its knob, not here. */
export function NewFirmware() {
  const firmware = useMemo(() => new FirmwareOnItsWay(), []);
  const file = useRef<HTMLInputElement>(null);
  const older = useRef<HTMLInputElement>(null);
  const { isUnderWay, lines, progress, trouble } = firmware;
  const put = () => void firmware.put(file.current!.files?.[0], older.current!.checked);
  return (
    <section aria-labelledby="firmware">
      <h2 id="firmware">New firmware</h2>
      <p>
        Switch the mains box off first. The log is saved, then the board asks for a turn of its knob, becomes
        a drive and comes back with the new version; recipes, settings and log stay on it.
      </p>
      <p class="jobs">
        <label>
          another image than the one that came with treadle <input type="file" accept=".uf2" ref={file} />
        </label>
        <label>
          <input type="checkbox" ref={older} /> even if it is older
        </label>
        <button type="button" aria-disabled={isUnderWay.value} onClick={put}>
          Put new firmware on the board
        </button>
      </p>
      <div role="status">
        {lines.value.map((words, index) => (
          <p key={index}>{shownText(words)}</p>
        ))}
      </div>
      {progress.value !== undefined && (
        <progress aria-label={progress.value.what} value={progress.value.done} max={progress.value.all} />
      )}
      <p role="alert">{sentence(shownText(trouble.value))}</p>
    </section>
  );
}
