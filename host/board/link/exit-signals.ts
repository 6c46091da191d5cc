const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

const closers = new Set<() => Promise<void>>();

/**
 * Has `close` called when the process is told to end; afterwards the signal has its usual effect, unless somebody
 * else handles it. Calling the answer takes it off.
 */
export function onExitSignals(close: () => Promise<void>): () => void {
  if (closers.size === 0) for (const signal of SIGNALS) process.on(signal, closeAll);
  closers.add(close);
  return () => {
    closers.delete(close);
    if (closers.size === 0) for (const signal of SIGNALS) process.off(signal, closeAll);
  };
}

async function closeAll(signal: NodeJS.Signals): Promise<void> {
  const closing = [...closers].map((close) => close());
  closers.clear();
  for (const each of SIGNALS) process.off(each, closeAll);
  await Promise.allSettled(closing);
  if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
}
