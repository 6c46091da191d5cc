import { signal } from '@preact/signals';
import type { SheetTold } from '../../server/nights/told.js';
import type { EdgeTold, StripTold } from '../../server/strips/told.js';
import { answerTo } from '../server-link.js';
import { sheetQuery } from './night-words.js';

/** By which words a profile is known, and through what the strip was exposed. */
interface PaperToKeep {
  readonly paper: string;
  /** Empty for the one that was read last. */
  readonly developer: string;
  /** Empty where the log names it. */
  readonly filter: string;
}

const USUAL_TONE = '0.6';

/** The scan of one strip, what was read of it, and its edges as they are being corrected. */
export class StripOnDesk {
  readonly told = signal<StripTold | undefined>(undefined);
  readonly edges = signal<readonly EdgeTold[]>([]);
  /** Whether a person moved one since it was read. */
  readonly moved = signal(false);
  readonly reading = signal('');
  /** The scan that came while another is being read: it is next. */
  readonly waiting = signal<File | undefined>(undefined);
  /** The scan that `told` and `edges` are of. */
  readonly shown = signal('');
  readonly refusal = signal('');
  readonly tone = signal(USUAL_TONE);
  /** Whether the tone is a grey of the scan, shown or still to be pointed at. */
  readonly pointing = signal(false);
  #file: File | undefined;
  #toneRead = '';
  /** What the negative's scan on the desk is read as; undefined where the strip is read without it. */
  #negative: 'negative' | 'positive' | undefined;
  /** Whether the edges are a person's, so that another tone is read by them, too. */
  #placed = false;

  constructor(readonly sheet: SheetTold) {}

  /** Reads it, once the one that is being read is done; of several that come meanwhile the last. */
  async take(file: File | undefined): Promise<void> {
    if (file === undefined) return;
    if (this.reading.value !== '') {
      this.waiting.value = file;
      return;
    }
    this.#forgetPlace();
    const before = [this.#file, this.#placed, this.#negative] as const;
    [this.#file, this.#placed, this.#negative] = [file, false, undefined];
    // What stays on the page is of the scan before, and so is what its buttons do.
    if (!(await this.#read(file))) [this.#file, this.#placed, this.#negative] = before;
    await this.#readWhatWaits();
  }

  /** A grey of the scan before is none of the next one. */
  #forgetPlace(): void {
    if (!this.pointing.value) return;
    this.pointing.value = false;
    this.tone.value = USUAL_TONE;
  }

  readByEdges(): Promise<void> {
    this.#placed = true;
    return this.#again();
  }

  readOnNegative(scanIs: 'negative' | 'positive'): Promise<void> {
    this.#negative = scanIs;
    this.#placed = false;
    return this.#again();
  }

  readFor(tone: string): Promise<void> {
    this.tone.value = tone;
    this.pointing.value = false;
    return this.#again();
  }

  /** @param place in pixels of the file from left and top, such as `1840,220`. */
  readForGreyAt(place: string): Promise<void> {
    this.tone.value = `at ${place.trim()}`;
    return this.#again();
  }

  /** Of a place of the picture, in per cent from left and top. */
  pixelsAt([left, top]: EdgeTold['from']): string {
    const { along, pixelsAlong, picture } = this.told.value!;
    const perPixel = pixelsAlong / (along === 'x' ? picture.width : picture.height);
    return `${Math.round((left / 100) * picture.width * perPixel)},${Math.round((top / 100) * picture.height * perPixel)}`;
  }

  /** Reads it once more and keeps it in the profile of its paper. */
  keepFor(paper: PaperToKeep): Promise<void> {
    return this.#again(paper);
  }

  async #again(keep?: PaperToKeep): Promise<void> {
    if (this.#file === undefined || this.reading.value !== '') return;
    await this.#read(this.#file, keep);
    await this.#readWhatWaits();
  }

  /** A scan or a tone that was chosen while another was being read. */
  #readWhatWaits(): Promise<void> {
    const { value: file } = this.waiting;
    this.waiting.value = undefined;
    if (file !== undefined) return this.take(file);
    return this.#file !== undefined && this.#toneRead !== this.tone.value ? this.#again() : Promise.resolve();
  }

  async #read(file: File, keep?: PaperToKeep): Promise<boolean> {
    this.#toneRead = this.tone.value;
    const query = new URLSearchParams({ name: file.name, tone: this.#toneRead });
    if (this.#placed) query.set('edges', this.edges.value.map(({ px }) => px).join(','));
    if (this.#negative !== undefined) query.set('negative', this.#negative);
    for (const [field, value] of Object.entries(keep ?? {})) query.set(field, value);
    this.reading.value = file.name;
    this.refusal.value = '';
    let isRead = false;
    try {
      const asked = { method: 'POST', body: file };
      const answer = await answerTo(`/api/strip?${sheetQuery(this.sheet)}&${query}`, asked);
      const told = (await answer.json()) as StripTold;
      this.told.value = told;
      // A person's stay where nothing was found by them.
      if (told.edges.length > 0) this.edges.value = told.edges;
      else if (!this.#placed) this.edges.value = evenEdges(told);
      this.moved.value = false;
      this.shown.value = file.name;
      isRead = true;
    } catch (error) {
      this.refusal.value = (error as Error).message;
    }
    this.reading.value = '';
    return isRead;
  }

  /** Moves an edge along the strip, by per cent of the picture, but not past the ones beside it. */
  move(at: number, byPercent: number): void {
    const told = this.told.value!;
    const axis = told.along === 'x' ? 0 : 1;
    const edge = this.edges.value[at]!;
    const px = Math.round(edge.px + (byPercent * told.pixelsAlong) / 100);
    const beside = [this.edges.value[at - 1], this.edges.value[at + 1]].filter((each) => each !== undefined);
    const isFree = beside.every((other) => (other.px - edge.px) * (other.px - px) > 0);
    if (!isFree || px < 0 || px > told.pixelsAlong) return;
    const along = (point: EdgeTold['from']): EdgeTold['from'] =>
      axis === 0 ? [point[0] + byPercent, point[1]] : [point[0], point[1] + byPercent];
    this.edges.value = this.edges.value.with(at, { px, from: along(edge.from), to: along(edge.to) });
    this.moved.value = true;
  }
}

const MARGIN_PERCENT = 5;

/** Where none were found: even ones, to be put right. */
function evenEdges({ along, pixelsAlong, patchCount }: StripTold): EdgeTold[] {
  const step = (100 - 2 * MARGIN_PERCENT) / patchCount;
  return Array.from({ length: patchCount + 1 }, (_, at) => {
    const percent = MARGIN_PERCENT + at * step;
    const point = (across: number) =>
      along === 'x' ? ([percent, across] as const) : ([across, percent] as const);
    return {
      px: Math.round((percent * pixelsAlong) / 100),
      from: point(MARGIN_PERCENT),
      to: point(100 - MARGIN_PERCENT),
    };
  });
}
