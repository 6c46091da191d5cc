import { createRequire } from 'node:module';
import type CliProgress from 'cli-progress';

/** Loaded only where there is a terminal to draw on. */
const load = createRequire(import.meta.url);

/** Work that is over sooner needs no bar. */
const PATIENCE_MS = 1000;

export interface Progress {
  /** `done` of `total` pieces so far. */
  to(done: number, total: number): void;
  stop(): void;
}

/** A bar on standard error, only on a terminal and only for work that has taken longer than a second. */
export function progress(what: string, nowMs: () => number = Date.now): Progress {
  if (!process.stderr.isTTY) return { to: () => {}, stop: () => {} };
  const { SingleBar } = load('cli-progress') as typeof CliProgress;
  const bar = new SingleBar({
    format: `${what} {bar} {value}/{total}`,
    stream: process.stderr,
    clearOnComplete: true,
  });
  const startedMs = nowMs();
  return {
    to(done, total) {
      if (!bar.isActive && nowMs() - startedMs > PATIENCE_MS) bar.start(total, done);
      if (bar.isActive) bar.setTotal(total);
      bar.update(done);
    },
    stop: () => bar.stop(),
  };
}
