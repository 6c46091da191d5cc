import type { Core } from '../../core/generated/core-interface.js';
import { unsigned } from './core.js';

/** A stretch of one pulse of the lamp that belonged to one segment of the plan. */
export interface CarriedSegment {
  /** Of the plan, both from 0: which pass, and which of its segments. */
  readonly pass: number;
  readonly segment: number;
  /** From when the relay closed. The last stretch of a pulse has the afterglow as well. */
  readonly fromUs: number;
  readonly untilUs: number;
}

/** More pulses were given than the plan has use for. */
export class PulseError extends Error {
  override readonly name = 'PulseError';
}

/**
 * Carries out the plan that the core holds with the pulses that the lamp really gave, in their order: a pulse
 * that was cut short (a pause) leaves its rest to the next one, as the board does it. PulseError for a pulse
 * after the last segment.
 * @returns for each pulse its stretches, in order.
 */
export function carryOut(core: Core, pulsesOnUs: readonly number[]): CarriedSegment[][] {
  const places = segmentPlaces(core);
  let next = 0;
  return pulsesOnUs.map((onUs, pulse) => {
    if (next >= places.length)
      throw new PulseError(
        `pulse ${pulse + 1} came after the plan's ${places.length} segments had all been given`,
      );
    const stretches = stretchesOf(core, next, onUs, places);
    next = core.planBookPulse(next, onUs);
    return stretches;
  });
}

interface Place {
  readonly pass: number;
  readonly segment: number;
}

function segmentPlaces(core: Core): Place[] {
  const counts = new Map<number, number>();
  return Array.from({ length: core.planPieceCount() }, (_, index) => {
    const pass = core.planPiecePass(index);
    const segment = counts.get(pass) ?? 0;
    counts.set(pass, segment + 1);
    return { pass, segment };
  });
}

function stretchesOf(core: Core, first: number, onUs: number, places: readonly Place[]): CarriedSegment[] {
  const end = core.planPulseEnd(first);
  const stretches: CarriedSegment[] = [];
  let fromUs = 0;
  for (let index = first; index < end && fromUs < onUs; index += 1) {
    const untilUs = Math.min(onUs, fromUs + unsigned(core.planPieceOnUs(index)));
    stretches.push({ ...places[index]!, fromUs, untilUs });
    fromUs = untilUs;
  }
  return stretches;
}
