import { signal } from '@preact/signals';
import { limits } from '../../../../shared-protocol/limits.js';
import { type Recipe, writeRecipe } from '../../../recipe/index.js';
import type { BathTold, BoardNews, BoardNow, SentTold, SettingTold } from '../../server/board/told.js';
import { withName } from '../print/kept-print.js';
import { answerTo, ask } from '../server-link.js';
import { linesOf } from './lines-of.js';

const LAST_KEPT = 8;
/** A row as the board told it; undefined until it changes, since it tells no others. */
export type ToldRow = string | undefined;

/** What is read of the board once it is opened on the page. */
export type Part = 'settings' | 'baths';

/** A knob that turns changes what is kept; while it turns, or time runs, rows follow each other more closely. */
const QUIET_MS = 1500;

const NOT_TOLD: readonly ToldRow[] = Array.from({ length: limits.displayRows });

/** The board as the server tells of it while this is looked at, and what is done with it. */
export class BoardInHand {
  readonly now = signal<BoardNow>({ stands: 'looking' });
  readonly rows = signal<readonly ToldRow[]>(NOT_TOLD);
  /** Undefined until the board tells: it does when that changes. */
  readonly lampIsOn = signal<boolean | undefined>(undefined);
  /** Since when nothing has come from it though it was asked, by this computer's clock. */
  readonly silentSinceMs = signal<number | undefined>(undefined);
  readonly happened = signal<readonly string[]>([]);
  readonly progress = signal<
    { readonly done: number; readonly all: number; readonly what: string } | undefined
  >(undefined);
  /** What came of what was done last. */
  readonly came = signal('');
  readonly trouble = signal('');
  /** Why the print was not sent, where it can be sent as the next version. */
  readonly over = signal('');
  readonly settings = signal<readonly SettingTold[]>([]);
  readonly baths = signal<readonly BathTold[]>([]);
  readonly #open = new Set<Part>();
  /** Counts readings, so that what was asked for before something changed is not shown after it. */
  #reading = 0;
  #quiet: ReturnType<typeof setTimeout> | undefined;

  /** Looks until the answer is called. */
  look(): () => void {
    const gone = new AbortController();
    void this.#follow(gone.signal);
    const comesInSight = () => document.visibilityState === 'visible' && void this.#readAgain();
    document.addEventListener('visibilitychange', comesInSight, gone);
    return () => {
      clearTimeout(this.#quiet);
      this.#open.clear();
      gone.abort();
    };
  }

  /** A part is read when it is opened, and again as long as it is open, when the board or the desk tells of a change. */
  show(part: Part, isOpen: boolean): void {
    if (isOpen) this.#open.add(part);
    else this.#open.delete(part);
    if (isOpen) void this.#do(() => this.#read());
  }

  send(recipe: Recipe, asNext = false): Promise<boolean> {
    return this.#do(async () => {
      this.over.value = '';
      const asked = { recipe: writeRecipe(withName(recipe)), asNext };
      const sent = await ask<SentTold>('/api/board/print', asked);
      if ('over' in sent) this.over.value = sent.over;
      else this.came.value = sent.words;
    });
  }

  collect(): Promise<boolean> {
    return this.#do(async () => {
      this.came.value = (await ask<{ words: string }>('/api/board/log', {})).words;
    });
  }

  /** True when the board has it. */
  set(name: string, value: string): Promise<boolean> {
    return this.#do(async () => {
      this.#reading++;
      const [now] = await ask<SettingTold[]>('/api/board/settings', { name, value });
      this.settings.value = this.settings.value.map((one) => (one.name === name ? now! : one));
      this.came.value = `The setting ${name} is ${now!.value}.`;
    });
  }

  /** True when it is called so. */
  call(name: string): Promise<boolean> {
    return this.#do(async () => {
      await ask('/api/board/name', { name: name === '' ? 'none' : name });
      this.#isCalled(name);
      this.came.value = name === '' ? 'The board has no name.' : `The board is called ${name}.`;
    });
  }

  giveBaths(file: Blob): Promise<boolean> {
    return this.#do(async () => {
      this.#reading++;
      const asked = { method: 'POST', body: await file.arrayBuffer() };
      this.baths.value = await (await answerTo('/api/board/baths', asked)).json();
      this.came.value = 'The board has these baths.';
    });
  }

  mixed({ bath, label }: BathTold): Promise<boolean> {
    return this.#do(async () => {
      this.#reading++;
      this.baths.value = await ask('/api/board/mixed', { bath });
      this.came.value = `Bath ${bath}, ${label}, now starts at zero.`;
    });
  }

  /** False where it came to trouble, which is told. */
  async #do(work: () => Promise<void>): Promise<boolean> {
    this.came.value = '';
    this.trouble.value = '';
    try {
      await work();
      return true;
    } catch (error) {
      this.trouble.value = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      this.progress.value = undefined;
    }
  }

  /** What is open, as the board has it now. */
  async #read(): Promise<void> {
    const reading = ++this.#reading;
    const settings = this.#open.has('settings')
      ? await ask<SettingTold[]>('/api/board/settings')
      : this.settings.value;
    const baths = this.#open.has('baths') ? await ask<BathTold[]>('/api/board/baths') : this.baths.value;
    if (reading !== this.#reading) return;
    this.settings.value = settings;
    this.baths.value = baths;
  }

  /** Without a word: that the board is not there is told where it stands. */
  async #readAgain(): Promise<void> {
    if (this.#open.size > 0) await this.#read().catch(() => {});
  }

  #readWhenQuiet(): void {
    clearTimeout(this.#quiet);
    this.#quiet = setTimeout(() => void this.#readAgain(), QUIET_MS);
  }

  #isCalled(name: string): void {
    if (this.now.value.stands === 'there') this.now.value = { ...this.now.value, name };
  }

  async #follow(signal: AbortSignal): Promise<void> {
    try {
      const { body } = await answerTo('/api/board', { signal });
      for await (const line of linesOf(body!)) this.#hear(JSON.parse(line) as BoardNews);
    } catch (error) {
      if (!signal.aborted) this.now.value = { stands: 'none', words: String((error as Error).message) };
    }
  }

  #hear(news: BoardNews): void {
    if ('board' in news) {
      this.now.value = news.board;
      this.lampIsOn.value = undefined;
      this.silentSinceMs.value = undefined;
      this.rows.value = NOT_TOLD;
      if (news.board.stands === 'there') this.trouble.value = '';
    } else if ('row' in news) {
      this.rows.value = this.rows.value.map((text, at) => (at === news.row ? news.text : text));
      this.#readWhenQuiet();
    } else if ('silentMs' in news)
      this.silentSinceMs.value = sinceOf(news.silentMs, this.silentSinceMs.value);
    else if ('changed' in news) void this.#readAgain();
    else if ('called' in news) this.#isCalled(news.called);
    else if ('what' in news) this.progress.value = news;
    else {
      if ('lampIsOn' in news) this.lampIsOn.value = news.lampIsOn;
      this.happened.value = [...this.happened.value, news.words].slice(-LAST_KEPT);
    }
  }
}

/** The first that is told of a silence stands: later ones count from the same moment, give or take. */
function sinceOf(silentMs: number, toldMs: number | undefined): number | undefined {
  return silentMs === 0 ? undefined : (toldMs ?? Date.now() - silentMs);
}
