import type { Check } from './core/vitest.js';

/** What a check says when it fails, or when it takes longer than `limitMs`; undefined where it passes. */
export async function saidBy(check: Check, limitMs: number): Promise<string | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<never>((_, fail) => {
    timer = setTimeout(() => fail(new Error('it waits for ever')), limitMs);
  });
  try {
    await Promise.race([check.run(), limit]);
    return undefined;
  } catch (error) {
    return String((error as Error)?.message ?? error)
      .split('\n')[0]!
      .slice(0, 200);
  } finally {
    clearTimeout(timer);
  }
}
