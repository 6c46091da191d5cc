import { signal } from '@preact/signals';
import { readRecipe } from '../../../recipe/index.js';
import type {
  AgainTold,
  ComparedTold,
  NightKey,
  NightsTold,
  NightTold,
  SheetTold,
} from '../../server/nights/told.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { ask } from '../server-link.js';
import { isSameSheet, nightQuery, sheetQuery } from './night-words.js';

/** So many nights of a negative are opened at once. */
const NIGHTS_AT_ONCE = 10;

/** A page as it is to be printed. */
export interface PaperPage {
  readonly title: string;
  readonly text: string;
  readonly type: 'text/html' | 'image/svg+xml';
}

/** What is looked at of the log, as far as it was asked for. */
export class LookingBack {
  readonly nights = signal<NightsTold | undefined>(undefined);
  readonly by = signal<'night' | 'negative'>('night');
  /** What is open: its heading, and its nights. */
  readonly open = signal<{ readonly heading: string; readonly nights: readonly NightTold[] } | undefined>(
    undefined,
  );
  /** Nights of the open negative that are not shown yet. */
  readonly earlier = signal<readonly NightKey[]>([]);
  readonly trouble = signal('');
  /** The sheet that another is to be compared with. */
  readonly first = signal<SheetTold | undefined>(undefined);

  /** A page to print that is looked at. */
  readonly paper = signal<PaperPage | undefined>(undefined);
  readonly compared = signal<ComparedTold | undefined>(undefined);
  /** The two of them, as they were given. */
  comparedSheets: readonly SheetTold[] = [];
  /** Rises with each that is opened or closed: an answer that comes for an earlier one is nobody's any more. */
  #opening = 0;
  /** What was done last. */
  readonly came = signal('');

  map(sheet: SheetTold): Promise<void> {
    return this.#try(async () => {
      const { svg } = await ask<{ svg: string }>(`/api/sheet/map?${sheetQuery(sheet)}`);
      this.paper.value = { title: `Printing map of sheet ${sheet.name}`, text: svg, type: 'image/svg+xml' };
    });
  }

  page(key: NightKey): Promise<void> {
    return this.#try(async () => {
      const { html } = await ask<{ html: string }>(`/api/night/page?${nightQuery(key)}`);
      this.paper.value = { title: 'The night as a page', text: html, type: 'text/html' };
    });
  }

  leavePaper(): void {
    this.paper.value = undefined;
  }

  /** The print is on the desk again, as the sheet was given. */
  again(sheet: SheetTold, print: PrintOnDesk, cut?: 'all' | 'none'): Promise<void> {
    return this.#try(async () => {
      const fell = cut === undefined ? '' : `&cut=${cut}`;
      const told = await ask<AgainTold>(`/api/sheet/again?${sheetQuery(sheet)}${fell}`);
      const recipe = readRecipe(told.recipe);
      print.change(recipe, `sheet ${told.name} again`);
      this.came.value = `'${recipe.title}' version ${recipe.version} is on the desk, as sheet ${told.name} was given.`;
    });
  }

  /** Remembers the first; with the second both are compared. */
  compare(sheet: SheetTold): Promise<void> {
    const first = this.first.value;
    if (first === undefined || isSameSheet(first, sheet)) {
      this.first.value = first === undefined ? sheet : undefined;
      return Promise.resolve();
    }
    return this.#try(async () => {
      const both = new URLSearchParams({ first: sheetQuery(first), second: sheetQuery(sheet) });
      this.comparedSheets = [first, sheet];
      this.compared.value = await ask(`/api/sheets/compared?${both}`);
      this.first.value = undefined;
    });
  }

  leaveCompared(): void {
    this.compared.value = undefined;
  }

  list(): Promise<void> {
    return this.#try(async () => {
      this.nights.value = await ask<NightsTold>('/api/nights');
    });
  }

  openNight(key: NightKey, heading: string): Promise<void> {
    const opening = ++this.#opening;
    return this.#try(async () => {
      const night = await ask<NightTold>(`/api/night?${nightQuery(key)}`);
      if (opening !== this.#opening) return;
      this.earlier.value = [];
      this.open.value = { heading, nights: [night] };
    });
  }

  openNegative(recipe: string, heading: string): Promise<void> {
    const opening = ++this.#opening;
    return this.#try(async () => {
      const keys = await ask<NightKey[]>(`/api/negative?${new URLSearchParams({ recipe })}`);
      if (opening !== this.#opening) return;
      this.open.value = { heading, nights: [] };
      await this.#more(keys, recipe);
    });
  }

  moreOf(recipe: string): Promise<void> {
    return this.#try(() => this.#more(this.earlier.value, recipe));
  }

  close(): void {
    this.#opening++;
    this.open.value = undefined;
  }

  /** @returns whether it is kept. */
  async remark(sheet: SheetTold, rating: number | null, words: string): Promise<boolean> {
    await this.#try(async () => {
      await ask(`/api/remark?${sheetQuery(sheet)}`, { rating, words });
      await this.#again(sheet);
    });
    return this.trouble.value === '';
  }

  async #more(keys: readonly NightKey[], recipe: string): Promise<void> {
    const opening = this.#opening;
    for (const key of keys.slice(0, NIGHTS_AT_ONCE)) {
      const night = await ask<NightTold>(`/api/night?${nightQuery(key)}`);
      if (opening !== this.#opening) return;
      const { heading, nights } = this.open.value!;
      const sheets = night.sheets.filter((sheet) => sheet.recipe === recipe);
      this.open.value = { heading, nights: [...nights, { ...night, sheets, events: [], totals: '' }] };
    }
    this.earlier.value = keys.slice(NIGHTS_AT_ONCE);
  }

  /** A sheet of which something was said, as the archive has it now. */
  async #again({ key, place }: SheetTold): Promise<void> {
    const fresh = await ask<NightTold>(`/api/night?${nightQuery(key)}`);
    const same = (sheet: SheetTold) => JSON.stringify(sheet.place) === JSON.stringify(place);
    const now = fresh.sheets.find(same);
    const open = this.open.value;
    if (open === undefined || now === undefined) return;
    const nights = open.nights.map((night) => ({
      ...night,
      sheets: night.sheets.map((sheet) => (same(sheet) ? now : sheet)),
    }));
    this.open.value = { ...open, nights };
  }

  async #try(work: () => Promise<void>): Promise<void> {
    this.trouble.value = '';
    this.came.value = '';
    try {
      await work();
    } catch (error) {
      this.trouble.value = error instanceof Error ? error.message : String(error);
    }
  }
}
