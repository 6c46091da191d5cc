import { computed, effect, signal } from '@preact/signals';
import { commonFilterTable, type FilterTable, knownFilter } from '../../../daylight/filters/filter-table.js';
import type { PaperListed, PaperTold } from '../../server/papers/told.js';
import { filterTable } from '../order-of-work/filter-table.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { ask, NotDoneError, server } from '../server-link.js';

/** The papers of which something was measured; none where no server has an archive. */
export const papers = signal<readonly PaperListed[]>([]);
/** The one that the recipe names, the common one, or one of the list by its place in it. */
export const chosenPaper = signal<'recipe' | 'common' | number>('recipe');
/** What pictures are made on and filters worked out by; undefined for the common paper. */
export const paperInUse = signal<PaperTold | undefined>(undefined);
/** Why the paper that was chosen is not in use; empty where it is. */
export const paperRefusal = signal('');

export async function listPapers(): Promise<void> {
  if (typeof server.value !== 'object' || !server.value.hasPapers) return;
  await said(async () => {
    const before = papers.peek();
    const now = await ask<readonly PaperListed[]>('/api/papers');
    if (JSON.stringify(now) === JSON.stringify(before)) return;
    // What was chosen stays, whatever was read meanwhile.
    const chosen = chosenPaper.peek();
    if (typeof chosen === 'number') chosenPaper.value = placeOf(before[chosen]!, now);
    papers.value = now;
  });
}

/** Keeps the paper in use that is chosen, as the recipe changes. */
export function followPaper(print: PrintOnDesk): void {
  const wanted = computed(() => {
    const chosen = chosenPaper.value;
    if (typeof chosen === 'number') return papers.value[chosen];
    return chosen === 'common' ? undefined : named(print.recipe.value.paper);
  });
  const key = computed(() => JSON.stringify(wanted.value ?? null));
  effect(() => {
    const asked = key.value;
    void use(wanted.peek(), () => key.peek() === asked);
  });
}

async function use(wanted: PaperListed | undefined, isStillWanted: () => boolean): Promise<void> {
  if (wanted === undefined && paperInUse.peek() === undefined) return;
  await said(async () => {
    const told = wanted && (await askFor(wanted));
    if (!isStillWanted()) return;
    paperInUse.value = told;
    filterTable.value = told === undefined ? commonFilterTable : tableOf(told);
  });
}

function askFor({ paper, developer }: PaperListed): Promise<PaperTold> {
  return ask<PaperTold>(`/api/papers/paper?${new URLSearchParams({ paper, developer })}`);
}

async function said(work: () => Promise<void>): Promise<void> {
  try {
    await work();
    paperRefusal.value = '';
  } catch (error) {
    if (!(error instanceof NotDoneError)) throw error;
    paperRefusal.value = error.message;
  }
}

/** The one that was read last, of those of this name. */
function named(paper: string): PaperListed | undefined {
  const plain = (text: string) => text.trim().toLowerCase();
  return papers.value.findLast((each) => plain(each.paper) === plain(paper));
}

function placeOf({ paper, developer }: PaperListed, now: readonly PaperListed[]): number | 'recipe' {
  const place = now.findIndex((each) => each.paper === paper && each.developer === developer);
  return place < 0 ? 'recipe' : place;
}

function tableOf({ table, rangeSources, factorSources }: PaperTold): FilterTable {
  const name = (filter: string) => knownFilter(table, filter)?.filter ?? filter;
  return {
    ...table,
    rangeSource: (filter) => rangeSources[name(filter)] ?? '',
    factorSource: (from, to) => factorSources[name(from)]?.[name(to)] ?? '',
  };
}
