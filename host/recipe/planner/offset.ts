import { limits } from '../../../shared-protocol/limits.js';
import type { Core } from '../../core/generated/core-interface.js';
import { fromStops3M, splitStops } from '../fine-stops.js';

/** What an offset is of: a base pass's time, what a burn adds to the base, what a dodge holds back of its pass. */
export type OffsetKind = 'base' | 'burn' | 'dodge';

const STOP_3M = limits.stopParts * limits.fineParts;
/** Whole 1/120 stop, millionths of a stop, the core's own parts: the first that gives the time is what is easiest to read. */
const GRAINS_3M = [limits.fineParts, STOP_3M / 1_000_000, 1];

/** The core's answer for an offset; below zero where there is none. */
export function doseAtOffset(core: Core, kind: OffsetKind, fromMs: number, offset120: number): number {
  const { stops120, fine3M } = splitStops(offset120);
  if (kind === 'base') return core.timeAtFineStopsMs(fromMs, stops120, fine3M);
  return kind === 'burn' ? core.burnMs(fromMs, stops120, fine3M) : core.dodgeMs(fromMs, -stops120, -fine3M);
}

/** The offset that makes `wantedMs` of `fromMs`, to 1 ms; undefined where there is none of up to ten stops. */
export function offsetGiving(
  core: Core,
  kind: OffsetKind,
  fromMs: number,
  wantedMs: number,
): number | undefined {
  const toMs = kind === 'base' ? wantedMs : kind === 'burn' ? fromMs + wantedMs : fromMs - wantedMs;
  if (wantedMs < 1 || toMs < 1) return undefined;
  const stops3M = core.stopsBetween(fromMs, toMs, STOP_3M);
  const offsets = GRAINS_3M.map((grain) => fromStops3M(Math.round(stops3M / grain) * grain));
  const doseOf = (offset120: number) => doseAtOffset(core, kind, fromMs, offset120);
  return (
    offsets.find((offset120) => doseOf(offset120) === wantedMs) ??
    offsets.findLast((offset120) => Math.abs(offset120) <= limits.offsetStops120 && doseOf(offset120) > 0)
  );
}
