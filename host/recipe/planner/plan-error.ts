import { limits } from '../../../shared-protocol/limits.js';
import { InputError } from '../../errors.js';

/** The core's PlanCode from 1 on, in its order. */
const planFaults = [
  'base-out-of-range',
  'stops-out-of-range',
  'too-long',
  'below-lamp',
  'dodges-too-long',
  'count-out-of-range',
] as const;

export type PlanFault = (typeof planFaults)[number];

/** The word for a PlanCode of the core, which must not be 0 (all is well). */
export function planFault(code: number): PlanFault {
  const fault = planFaults[code - 1];
  if (fault === undefined) throw new RangeError(`the core answered with the unknown plan code ${code}`);
  return fault;
}

/** Where in a plan it failed (from 0), and the figures in milliseconds; 0 where a figure says nothing. */
export interface PlanFigures {
  readonly pass?: number;
  readonly dodge?: number;
  readonly neededMs: number;
  readonly allowedMs: number;
}

/** A plan that cannot be carried out: `fault` for programs, `message` and `wayOut` for people. */
export class PlanError extends InputError {
  override readonly name = 'PlanError';
  readonly wayOut: string;

  constructor(
    readonly fault: PlanFault,
    readonly figures: PlanFigures,
  ) {
    super(messages[fault](figures));
    this.wayOut = waysOut[fault];
  }
}

const messages: Record<PlanFault, (figures: PlanFigures) => string> = {
  'base-out-of-range': ({ neededMs }) => `the time ${seconds(neededMs)} is not between 0.001 s and 1 h`,
  'stops-out-of-range': () =>
    `a step must be more than nothing, and no offset more than ${limits.offsetStops120 / limits.stopParts} stops`,
  'too-long': ({ allowedMs }) => `the exposure would be longer than ${seconds(allowedMs)}`,
  'below-lamp': ({ neededMs, allowedMs }) =>
    `${seconds(neededMs)} is shorter than ${seconds(allowedMs)}, the least this lamp can be depended on for`,
  'dodges-too-long': ({ neededMs, allowedMs }) =>
    `the dodges need ${seconds(neededMs)} but their pass has only ${seconds(allowedMs)}`,
  'count-out-of-range': () =>
    `a recipe has 1 to ${limits.recipePasses} passes and at most ${limits.recipeDodges} dodges, ` +
    `a strip 2 to ${limits.stripPatches} patches`,
};

const waysOut: Record<PlanFault, string> = {
  'base-out-of-range': 'open or close the lens until a time within reach is right',
  'stops-out-of-range': 'choose a step or offset within that range',
  'too-long': 'open the lens, which halves the time for each stop',
  'below-lamp': 'close the lens, which doubles every time for each stop, or leave the piece out',
  'dodges-too-long': 'split the pass into two base passes, or dodge two areas together',
  'count-out-of-range': 'split the work into two recipes or strips',
};

/** 12500 -> "12.500 s": as exact as the plan. */
function seconds(ms: number): string {
  return `${(ms / 1000).toFixed(3)} s`;
}
