/** What is being worked on, kept until the next start: by the server, or by the browser where there is none. */
import { effect, signal } from '@preact/signals';
import { fileFromRecipe, type Recipe } from '../../../recipe/index.js';
import type { DraftKept } from '../../server/prints/draft.js';
import { answerTo, ask } from '../server-link.js';
import { serverKeeps } from './kept-by-server.js';
import type { Origin } from './kept-print.js';
import type { PrintOnDesk } from './print-on-desk.js';

const PATH = '/api/prints/draft';
const KEY = 'treadle-print-on-desk';
/** A drag changes many times a second. */
const REST_MS = 300;

/** Another page of this desk has written its own print to the same place, which is kept no longer. */
export const wroteOverOther = signal(false);
/** What the server has, as far as this page knows. */
let revision: number | undefined;
let storing: Promise<void> = Promise.resolve();

export interface Draft {
  readonly recipe: Recipe;
  readonly origin: Origin;
}

/** What was worked on when the desk was left; undefined where nothing was, or nothing that can be read. */
export async function lastDraft(): Promise<Draft | undefined> {
  try {
    const draft = serverKeeps() ? await draftOfServer() : JSON.parse(localStorage.getItem(KEY) ?? 'null');
    return isDraft(draft) ? draft : undefined;
  } catch {
    return undefined;
  }
}

async function draftOfServer(): Promise<unknown> {
  const told = await ask<{ revision: number; draft: unknown }>(PATH);
  revision = told.revision;
  return told.draft;
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
    const draft = { recipe: print.recipe.peek(), origin: print.origin.peek() };
    // One after another, so that this page does not take itself for another; nothing waits in one that is closed.
    storing = isClosing ? store(draft, true) : storing.then(() => store(draft, false));
  };
  effect(() => {
    print.recipe.value;
    print.origin.value;
    if (!first) timer ??= setTimeout(keep, REST_MS, false);
    first = false;
  });
  addEventListener('pagehide', () => {
    // What is being typed is taken when its field is left.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
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
    if (serverKeeps()) await storeAtServer(body, isClosing);
    else localStorage.setItem(KEY, body);
  } catch {
    return;
  }
}

async function storeAtServer(body: string, isClosing: boolean): Promise<void> {
  const path = revision === undefined ? PATH : `${PATH}?since=${revision}`;
  const kept = await answerTo(path, { method: 'POST', body, keepalive: isClosing });
  const told = (await kept.json()) as DraftKept;
  revision = told.revision;
  wroteOverOther.value = !told.isAlone;
}
