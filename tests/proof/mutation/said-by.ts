import { performance } from 'node:perf_hooks';
import type { Check } from './core/vitest.js';

const LOOK_MS = 250;

/**
 * What a check says when it fails, or when it waits or computes for more than `limitMs`; undefined where it passes. On a busy
 * computer it may take longer than that: what this process does not get is not counted.
 */
export async function saidBy(check: Check, limitMs: number): Promise<string | undefined> {
  const begun = performance.eventLoopUtilization();
  const busyBefore = process.cpuUsage();
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<never>((_, fail) => {
    timer = setInterval(() => {
      if (performance.eventLoopUtilization(begun).idle > limitMs) fail(new Error('it waits for ever'));
      if (process.cpuUsage(busyBefore).user / 1000 > limitMs) fail(new Error('it computes for ever'));
    }, LOOK_MS);
  });
  try {
    await Promise.race([check.run(), limit]);
    return undefined;
  } catch (error) {
    return String((error as Error)?.message ?? error)
      .split('\n')[0]!
      .slice(0, 200);
  } finally {
    clearInterval(timer);
  }
}
