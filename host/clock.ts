/** Time as the library sees it: handed in, so that tests let hours pass in milliseconds. */
export interface Clock {
  /** Milliseconds that only ever grow; where they start means nothing. */
  nowMs(): number;
  /** The laptop's date and time, in milliseconds since 1970-01-01 UTC. */
  epochMs(): number;
  /** Calls `run` once after `delayMs`; calling the answer takes it back. */
  after(delayMs: number, run: () => void): () => void;
}

export const systemClock: Clock = {
  nowMs: () => performance.now(),
  epochMs: () => Date.now(),
  after(delayMs, run) {
    const timer = setTimeout(run, delayMs);
    return () => clearTimeout(timer);
  },
};

/** Settles after `delayMs`, or with the signal's reason as soon as it is aborted. */
export function pause(clock: Clock, delayMs: number, signal?: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    signal?.throwIfAborted();
    const stop = () => {
      cancel();
      reject(signal!.reason);
    };
    const cancel = clock.after(delayMs, () => {
      signal?.removeEventListener('abort', stop);
      resolve();
    });
    signal?.addEventListener('abort', stop, { once: true });
  });
}
