import { limits } from '../../../shared-protocol/limits.js';
import type { Core } from '../../core/generated/core-interface.js';
import { unsigned, whole } from './core.js';
import { idealLamp, type Lamp, useLamp } from './lamp.js';
import { failure } from './refusal.js';

/** A test strip as a person asks for it. */
export interface StripRequest {
  readonly firstMs: number;
  /** In 1/120 stop, or in equal milliseconds. */
  readonly step: { readonly stops120: number } | { readonly equalMs: number };
  /** 2..12. */
  readonly patches: number;
  /** Cumulative: one exposure for all, then more for ever fewer. Separate: each patch alone. */
  readonly cover: 'cumulative' | 'separate';
  /** As the printer calls it; none where it is left out. It changes no time. */
  readonly filter?: string;
  readonly lamp?: Lamp;
}

export interface Patch {
  /** From 1, lightest first. */
  readonly patch: number;
  /** All that the patch gets. */
  readonly doseMs: number;
  /** From the first patch: exact where the step is in stops, to the nearest 1/120 where it is in seconds. */
  readonly stops120: number;
  readonly stops1000: number;
  /** From the patch before; 0 for the first. */
  readonly stepStops1000: number;
}

export interface StripExposure {
  /** From 1, in the order of the work. */
  readonly order: number;
  /** What this exposure adds to the patches that it reaches. */
  readonly doseMs: number;
  /** The relay's time for it, to the microsecond. */
  readonly onMs: number;
}

export interface StripPlan {
  readonly patches: readonly Patch[];
  readonly exposures: readonly StripExposure[];
}

/** The strip that an evening at the board begins with. */
export function usualStrip(core: Core): StripRequest {
  return {
    firstMs: core.usualStripFirstMs(),
    step: { stops120: core.usualStripStops120() },
    patches: core.usualStripPatches(),
    cover: 'cumulative',
  };
}

/** Plans a strip as the board would. PlanError if it cannot be exposed, with the exposure as its pass. */
export function planStrip(core: Core, request: StripRequest): StripPlan {
  useLamp(core, request.lamp ?? idealLamp);
  const { firstMs, patches } = request;
  const { stops120, equalMs } = stepOf(request);
  whole(firstMs, stops120, equalMs, patches);
  const code = core.planPatches(firstMs, stops120, equalMs, patches, request.cover === 'separate');
  if (code !== 0) throw failure(core, code);
  const totalsMs = Array.from({ length: patches }, (_, patch) =>
    core.patchMs(firstMs, stops120, equalMs, patch),
  );
  return {
    patches: totalsMs.map((doseMs, index) => ({
      patch: index + 1,
      doseMs,
      stops120: stops120 === 0 ? core.stopsBetween(firstMs, doseMs, limits.stopParts) : stops120 * index,
      stops1000: core.stopsBetween(firstMs, doseMs, 1000),
      stepStops1000: core.stopsBetween(totalsMs[index - 1] ?? doseMs, doseMs, 1000),
    })),
    exposures: Array.from({ length: core.planPieceCount() }, (_, index) => ({
      order: index + 1,
      doseMs: core.planPieceDoseMs(index),
      onMs: unsigned(core.planPieceOnUs(index)) / 1000,
    })),
  };
}

function stepOf({ step }: StripRequest): { stops120: number; equalMs: number } {
  return 'stops120' in step
    ? { stops120: step.stops120, equalMs: 0 }
    : { stops120: 0, equalMs: step.equalMs };
}
