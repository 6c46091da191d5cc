import type { CheckInSuites } from '../core/vitest.js';

/** Runs the checks of a file one after another, as vitest does: for those that go on from what the one before left. */
export async function runInTurn(checks: readonly CheckInSuites[]): Promise<void> {
  const begun: CheckInSuites['suites'][number][] = [];
  const endBelow = async (depth: number) => {
    while (begun.length > depth) for (const step of begun.pop()!.afterAll) await step();
  };
  try {
    for (const { suites, test } of checks) {
      const other = suites.findIndex((suite, at) => begun[at] !== suite);
      await endBelow(other < 0 ? suites.length : other);
      for (const suite of suites.slice(begun.length)) {
        begun.push(suite);
        for (const step of suite.beforeAll) await step();
      }
      try {
        for (const { beforeEach } of suites) for (const step of beforeEach) await step();
        await test();
      } finally {
        for (const { afterEach } of suites.toReversed()) for (const step of afterEach) await step();
      }
    }
  } finally {
    await endBelow(0);
  }
}
