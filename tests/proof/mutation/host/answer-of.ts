/** Waits for what a process answers, while it shows that it goes on. */
import type { EventEmitter } from 'node:events';
import type { Place } from './trials.js';

/** What a process that tries changes says: what it is at, that it goes on, or what it was asked for. */
export type Told<Answer = unknown> =
  | { readonly at: Place }
  | { readonly goesOn: true }
  | { readonly answer: Answer };

/** It said no answer: it held its thread, stayed at one check, or ended. */
export interface Held {
  readonly held: string;
  /** The check that it was at; none while the sources are loaded. */
  readonly at: Place | undefined;
}

/** By the clock, since who holds a thread need not compute: far more than the longest check takes on a busy computer. */
export interface Patience {
  /** Without any word. */
  readonly silentMs: number;
  /** At one check, which is told when it waits or computes for too long: this is for what does neither. */
  readonly oneCheckMs: number;
}

export const PATIENCE: Patience = { silentMs: 120_000, oneCheckMs: 300_000 };
export const GOES_ON_EACH_MS = 1000;

export const isHeld = (answer: unknown): answer is Held => typeof (answer as Held | null)?.held === 'string';

export function answerOf<Answer>(child: EventEmitter, patience = PATIENCE): Promise<Answer | Held> {
  return new Promise((answer) => {
    let at: Place | undefined;
    const end = (said: Answer | Held) => {
      clearTimeout(silence);
      clearTimeout(check);
      child.off('message', take);
      child.off('exit', onExit);
      answer(said);
    };
    const silence = setTimeout(() => end({ held: 'it never let go of its process', at }), patience.silentMs);
    const check = setTimeout(() => end({ held: 'it never came to an end', at }), patience.oneCheckMs);
    const onExit = () => end({ held: 'it ended its process', at });
    const take = (told: Told<Answer>) => {
      silence.refresh();
      if ('answer' in told) return end(told.answer);
      if (!('at' in told)) return;
      at = told.at;
      check.refresh();
    };
    child.on('message', take);
    child.once('exit', onExit);
  });
}
