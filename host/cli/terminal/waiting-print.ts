import { setTimeout } from 'node:timers/promises';
import { ExitCode } from '../exit-code.js';
import { print } from './print.js';

/** How long a slow reader has for what was printed before the end. */
const LAST_WORDS_MS = 500;

/** Prints, and goes on when the reader has taken it, or at once when the signal ends the waiting. */
export async function printAndWait(text: string, signal: AbortSignal): Promise<void> {
  print(text);
  if (process.stdout.writableNeedDrain && !signal.aborted) await drained(signal);
}

/** Ends the program although somebody at the other end of a pipe has stopped reading. */
export async function endDespiteReader(): Promise<void> {
  await Promise.race([drained(), setTimeout(LAST_WORDS_MS)]);
  if (process.stdout.writableLength > 0) process.exit(ExitCode.done);
}

function drained(signal?: AbortSignal): Promise<void> {
  if (!process.stdout.writableNeedDrain) return Promise.resolve();
  return new Promise((resolve) => {
    const done = () => {
      process.stdout.off('drain', done);
      signal?.removeEventListener('abort', done);
      resolve();
    };
    process.stdout.once('drain', done);
    signal?.addEventListener('abort', done, { once: true });
  });
}
