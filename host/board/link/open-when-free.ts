import type { Duplex } from 'node:stream';
import { type Clock, pause } from '../../clock.js';
import { PortBusyError } from '../errors.js';
import type { Patience } from './link-options.js';

const LOOK_MS = 250;

/**
 * Opens a port, and one that is busy again and again while a command of ours has it. The first time that is not asked: a
 * command that opened it in the same moment has had no time to say so.
 * @throws PortBusyError where it is not free in time, or somebody else has it, and what `open` throws.
 */
export async function openWhenFree(
  open: () => Promise<Duplex>,
  { mostMs, onWait }: Patience,
  clock: Clock,
  signal?: AbortSignal,
): Promise<Duplex> {
  const endMs = clock.nowMs() + mostMs;
  let isTold = false;
  for (let tries = 0; ; tries++) {
    try {
      return await open();
    } catch (error) {
      if (!(error instanceof PortBusyError) || clock.nowMs() >= endMs) throw error;
      const { holder } = error;
      if (tries > 0 && (holder === undefined || holder.keepsIt)) throw error;
      if (!isTold && holder !== undefined && !holder.keepsIt) {
        isTold = true;
        onWait(
          `'${holder.program}' (process ${holder.pid}) has ${error.path} open: waiting for it, ${mostMs / 1000} s at the most...`,
        );
      }
      await pause(clock, LOOK_MS, signal);
    }
  }
}
