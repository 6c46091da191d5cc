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

const NOT_TOLD: readonly ToldRow[] = Array.from({ length: limits.displayRows });

/** The board as the server tells of it while this is looked at, and what is done with it. */
export class BoardInHand {
  readonly now = signal<BoardNow>({ stands: 'looking' });
  readonly rows = signal<readonly ToldRow[]>(NOT_TOLD);
  /** Undefined until the board tells: it does when that changes. */
  readonly lampIsOn = signal<boolean | undefined>(undefined);
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

  /** Looks until the answer is called. */
  look(): () => void {
    const gone = new AbortController();
    void this.#follow(gone.signal);
    return () => gone.abort();
  }

  send(recipe: Recipe, asNext = false): Promise<void> {
    return this.#do(async () => {
      this.over.value = '';
      const asked = { recipe: writeRecipe(withName(recipe)), asNext };
      const sent = await ask<SentTold>('/api/board/print', asked);
      if ('over' in sent) this.over.value = sent.over;
      else this.came.value = sent.words;
    });
  }

  collect(): Promise<void> {
    return this.#do(async () => {
      this.came.value = (await ask<{ words: string }>('/api/board/log', {})).words;
    });
  }

  readSettings(): Promise<void> {
    return this.#do(async () => {
      this.settings.value = await ask('/api/board/settings');
    });
  }

  set(name: string, value: string): Promise<void> {
    return this.#do(async () => {
      const [now] = await ask<SettingTold[]>('/api/board/settings', { name, value });
      this.settings.value = this.settings.value.map((one) => (one.name === name ? now! : one));
      this.came.value = `The setting ${name} is ${now!.value}.`;
    });
  }

  call(name: string): Promise<void> {
    return this.#do(async () => {
      await ask('/api/board/name', { name: name === '' ? 'none' : name });
      if (this.now.value.stands === 'there') this.now.value = { ...this.now.value, name };
      this.came.value = name === '' ? 'The board has no name.' : `The board is called ${name}.`;
    });
  }

  readBaths(): Promise<void> {
    return this.#do(async () => {
      this.baths.value = await ask('/api/board/baths');
    });
  }

  giveBaths(file: Blob): Promise<void> {
    return this.#do(async () => {
      const asked = { method: 'POST', body: await file.arrayBuffer() };
      this.baths.value = await (await answerTo('/api/board/baths', asked)).json();
      this.came.value = 'The board has these baths.';
    });
  }

  mixed({ bath, label }: BathTold): Promise<void> {
    return this.#do(async () => {
      this.baths.value = await ask('/api/board/mixed', { bath });
      this.came.value = `Bath ${bath}, ${label}, now starts at zero.`;
    });
  }

  async #do(work: () => Promise<void>): Promise<void> {
    this.came.value = '';
    this.trouble.value = '';
    try {
      await work();
    } catch (error) {
      this.trouble.value = error instanceof Error ? error.message : String(error);
    }
    this.progress.value = undefined;
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
      this.rows.value = NOT_TOLD;
      if (news.board.stands === 'there') this.trouble.value = '';
    } else if ('row' in news)
      this.rows.value = this.rows.value.map((text, at) => (at === news.row ? news.text : text));
    else if ('what' in news) this.progress.value = news;
    else {
      if ('lampIsOn' in news) this.lampIsOn.value = news.lampIsOn;
      this.happened.value = [...this.happened.value, news.words].slice(-LAST_KEPT);
    }
  }
}
