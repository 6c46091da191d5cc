import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { PortBusyError, PortNotFoundError } from '../../../../host/board/errors.js';
import type { NotedHolder } from '../../../../host/board/link/link-options.js';
import { openWhenFree } from '../../../../host/board/link/open-when-free.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { EPOCH_MS } from './talk.js';

const collect: NotedHolder = { pid: 4711, program: 'treadle collect', keepsIt: false };
const stream = new PassThrough();

/** Opens a port that has these holders one after another, a look each, and is free then. */
async function opening(holders: readonly (NotedHolder | undefined)[], mostMs = 10_000) {
  const timeline = new Timeline();
  const clock = timelineClock(timeline, EPOCH_MS);
  const told: string[] = [];
  let tries = 0;
  const open = async () => {
    if (tries < holders.length) throw new PortBusyError('/dev/x', 'somebody', holders[tries++]);
    return stream;
  };
  const opened = openWhenFree(open, { mostMs, onWait: (words) => told.push(words) }, clock);
  const outcome = await inVirtualTime(
    timeline,
    opened.catch((error: unknown) => error),
  );
  return { outcome, told, tries };
}

describe('a port that is busy', () => {
  it('is waited for while a command has it, and the person is told once', async () => {
    const { outcome, told } = await opening([collect, collect, collect]);
    expect(outcome).toBe(stream);
    expect(told).toEqual([
      "'treadle collect' (process 4711) has /dev/x open: waiting for it, 10 s at the most...",
    ]);
  });

  it('is not waited for without end', async () => {
    const { outcome, tries } = await opening(Array(1000).fill(collect));
    expect(outcome).toBeInstanceOf(PortBusyError);
    expect(tries).toBeGreaterThan(20);
    expect(tries).toBeLessThan(1000);
  });

  it.each([undefined, { ...collect, program: 'treadle watch', keepsIt: true }])(
    'is looked at once more and given up where it is kept by %j, without a word',
    async (holder) => {
      const { outcome, told, tries } = await opening(Array(9).fill(holder));
      expect(outcome).toBeInstanceOf(PortBusyError);
      expect(told).toEqual([]);
      expect(tries).toBe(2);
    },
  );

  it('or in any other trouble is another thing: that is told at once', async () => {
    const timeline = new Timeline();
    let tries = 0;
    const open = async () => {
      tries++;
      throw new PortNotFoundError('/dev/x');
    };
    const patience = { mostMs: 10_000, onWait: () => {} };
    const opened = openWhenFree(open, patience, timelineClock(timeline, EPOCH_MS));
    await expect(inVirtualTime(timeline, opened)).rejects.toBeInstanceOf(PortNotFoundError);
    expect(tries).toBe(1);
  });

  it('is tried once where nothing is waited for', async () => {
    const { outcome, told, tries } = await opening(Array(9).fill(collect), 0);
    expect(outcome).toBeInstanceOf(PortBusyError);
    expect([told, tries]).toEqual([[], 1]);
  });

  it('by a command that had no time to say so is waited for', async () => {
    const { outcome } = await opening([undefined, collect]);
    expect(outcome).toBe(stream);
  });
});
