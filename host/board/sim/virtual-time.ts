import type { Clock } from '../../clock.js';
import type { Timeline } from './timeline.js';

/** Time passes at least in such steps, so that a byte at a time does not cost a turn of the event loop each. */
const STEP_US = 1000;
/** So many turns with nothing to wait for mean that nothing will ever come. */
const IDLE_TURNS = 1000;

/** The library's clock on a timeline; its date at time 0 is `epochMs`. */
export function timelineClock(timeline: Timeline, epochMs = 0): Clock {
  return {
    nowMs: () => timeline.nowUs / 1000,
    epochMs: () => epochMs + Math.floor(timeline.nowUs / 1000),
    // Rounded up: a rest of a millisecond too small to move the clock would be waited for again and again.
    after: (delayMs, run) => timeline.at(timeline.nowUs + Math.ceil(delayMs * 1000), run),
  };
}

/**
 * Lets time pass on the timeline, whenever the program has nothing else to do, until `work` is over.
 * @throws Error when it is not over after `limitMs` of that time, or when nothing more can happen.
 */
export async function inVirtualTime<Result>(
  timeline: Timeline,
  work: Promise<Result>,
  limitMs = 3_600_000,
): Promise<Result> {
  const endUs = timeline.nowUs + limitMs * 1000;
  let over = false;
  const mark = () => {
    over = true;
  };
  work.then(mark, mark);
  for (let idle = 0; !over; idle++) {
    await programAtRest();
    if (over) break;
    if (timeline.nowUs > endUs) throw new Error(`not over after ${limitMs} ms on the timeline`);
    if (timeline.nextUs !== undefined) {
      idle = 0;
      timeline.runUntil(Math.max(timeline.nextUs, timeline.nowUs + STEP_US));
    } else if (idle > IDLE_TURNS) throw new Error('nothing is awaited on the timeline: this would never end');
  }
  return work;
}

/** Streams and promises hand on in ticks of their own; after two turns of the loop all of them have. */
async function programAtRest(): Promise<void> {
  await new Promise((resolve) => setImmediate(resolve));
  await new Promise((resolve) => setImmediate(resolve));
}
