import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileCore } from '../../../setup/compile-core.js';

const NEVER = 2n ** 63n - 1n;
/** As many as the core has. */
const TIMERS = 10;

interface Timers {
  clearTimers(): void;
  setTimer(timer: number, atUs: bigint): void;
  firstDue(nowUs: bigint): number;
  askForDeadline(): void;
  deadlineServed(): void;
}

function timers(asked: bigint[]): Timers {
  const board = { wakeAtUs: (atUs: bigint) => void asked.push(atUs) };
  const { exports } = new WebAssembly.Instance(module, { board });
  return exports as unknown as Timers;
}
const module = compileCore('tests/firmware/core/timers/timers.as.ts');

/** By definition: of those due the earliest, and of equals the one that stands first. */
function firstOf(due: readonly bigint[]): number {
  return due.reduce((first, atUs, timer) => (atUs < due[first]! ? timer : first), 0);
}

const step = fc.record({
  timer: fc.nat(TIMERS - 1),
  // Few different times, so that many are equal.
  atUs: fc.oneof(fc.bigInt(0n, 5n), fc.constant(NEVER)),
});

describe('the timers', () => {
  it('hand out the earliest first, and of equals the one that stands first, whatever was set and taken back', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const asked: bigint[] = [];
        const core = timers(asked);
        core.clearTimers();
        const due = Array.from({ length: TIMERS }, () => NEVER);
        for (const { timer, atUs } of steps) {
          core.setTimer(timer, atUs);
          due[timer] = atUs;
          const first = firstOf(due);
          for (const nowUs of [0n, 3n, 6n])
            expect(core.firstDue(nowUs)).toBe(due[first]! <= nowUs ? first : -1);
          core.deadlineServed();
          core.askForDeadline();
          if (due[first] !== NEVER) expect(asked.at(-1)).toBe(due[first]);
        }
      }),
    );
  });

  it('ask the board for the same deadline once', () => {
    const asked: bigint[] = [];
    const core = timers(asked);
    core.clearTimers();
    core.setTimer(3, 5n);
    core.askForDeadline();
    core.askForDeadline();
    expect(asked).toEqual([5n]);
  });
});
