/** What is being worked on, kept until the next start: by the server, or by the browser where there is none. */
import { effect } from '@preact/signals';
import { fileFromRecipe, type Recipe } from '../../../recipe/index.js';
import { answerTo, ask } from '../server-link.js';
import { serverKeeps } from './kept-by-server.js';
import type { Origin } from './kept-print.js';
import type { PrintOnDesk } from './print-on-desk.js';

const PATH = '/api/prints/draft';
const KEY = 'treadle-print-on-desk';
/** A drag changes many times a second. */
const REST_MS = 300;

export interface Draft {
  readonly recipe: Recipe;
  readonly origin: Origin;
}

/** What was worked on when the desk was left; undefined where nothing was, or nothing that can be read. */
export async function lastDraft(): Promise<Draft | undefined> {
  try {
    const draft = serverKeeps() ? await ask<unknown>(PATH) : JSON.parse(localStorage.getItem(KEY) ?? 'null');
    return isDraft(draft) ? draft : undefined;
  } catch {
    return undefined;
  }
}

/** Somebody may have had the file in an editor: what no recipe could be is none. */
function isDraft(value: unknown): value is Draft {
  const { recipe, origin } = (value ?? {}) as Partial<Draft>;
  if (recipe === undefined || origin === undefined) return false;
  fileFromRecipe({ ...recipe, title: recipe.title || 'untitled', name: recipe.name || 'untitled' });
  if (origin.before !== undefined) fileFromRecipe(origin.before);
  return true;
}

/** Keeps every change from now on. */
export function keepDrafts(print: PrintOnDesk): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let first = true;
  const keep = (isClosing: boolean) => {
    clearTimeout(timer);
    timer = undefined;
    void store({ recipe: print.recipe.peek(), origin: print.origin.peek() }, isClosing);
  };
  effect(() => {
    print.recipe.value;
    print.origin.value;
    if (!first) timer ??= setTimeout(keep, REST_MS, false);
    first = false;
  });
  addEventListener('pagehide', () => {
    if (timer !== undefined) keep(true);
  });
}

/**
 * A page that is being closed still sends it, as far as a browser lets it: 64 KB (Fetch, keepalive), and so only then.
 * What cannot be kept now is sent again with the next change.
 */
async function store(draft: Draft, isClosing: boolean): Promise<void> {
  const body = JSON.stringify(draft);
  try {
    if (serverKeeps()) await answerTo(PATH, { method: 'POST', body, keepalive: isClosing });
    else localStorage.setItem(KEY, body);
  } catch {
    return;
  }
}
