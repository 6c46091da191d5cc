import { loadCore } from '../../../host/recipe/planner/core.js';
import { passKind } from '../../../shared-protocol/schema.js';
import { type Between, difference, exactly, sum } from './exact.js';
import { ExactLamp, type LampFigures } from './exact-lamp.js';

/** A base or first time, and what is made of it; offsets are in 1/120 stop. */
export interface Asked {
  readonly baseMs: number;
  readonly lamp: LampFigures;
  readonly work: Print | Burn | Strip;
  /** At which share of a pulse, of those in turn, the pedal cuts it short; a lamp that is then cold goes on. */
  readonly cuts: readonly number[];
}
interface Print {
  readonly kind: 'print';
  readonly stops120: number;
  readonly dodges120: readonly number[];
  readonly dodgesStop: boolean;
}
interface Burn {
  readonly kind: 'burn';
  readonly stops120: number;
}
interface Strip {
  readonly kind: 'strip';
  readonly step120: number;
  readonly patches: number;
  readonly separate: boolean;
}

/** A place on the paper: the offset that it should have in all, and the pieces of the plan that reach it. */
export interface Area {
  readonly stops120: number;
  readonly lightUs: Between;
  /** How many pulses were cut short so near to their end that the rest is none, and no later one makes up for it here. */
  readonly restsLost: number;
}

const core = loadCore();
const BASE = passKind.options.indexOf('base');
const BURN = passKind.options.indexOf('burn');
/** A piece that is cut short again and again ends at some time. */
const MOST_PULSES = 100;

/** Answers the core's PlanCode. */
export function plan({ baseMs, lamp, work }: Asked): number {
  if (!core.setLamp(lamp.lagMs, lamp.riseMs)) throw new Error('a lamp beyond the settings');
  if (work.kind === 'strip')
    return core.planPatches(baseMs, work.step120, 0, work.patches, Number(work.separate));
  core.planBegin(baseMs, 0, Number(work.kind === 'print' && work.dodgesStop));
  core.planPass(BASE, work.kind === 'print' ? work.stops120 : 0, 0);
  if (work.kind === 'burn') core.planPass(BURN, work.stops120, 0);
  else for (const dodge of work.dodges120) core.planDodge(dodge, 0);
  return core.planEnd();
}

/** What the core's relay times for the plan just made give. */
export function areasGiven(asked: Asked): { areas: Area[]; pieces: number } {
  const given = lightOfPieces(new ExactLamp(asked.lamp), asked.cuts);
  const areas = areasOf(asked.work, given);
  // The glow after a cut falls on a hand that runs through several pieces, and no later light can make up for that.
  return { areas: given.coversGlow ? areas.slice(0, 1) : areas, pieces: given.lights.length };
}

function areasOf(work: Asked['work'], given: Pulses): Area[] {
  if (work.kind === 'strip') return stripAreas(work, given);
  return work.kind === 'burn' ? burnAreas(work, given) : printAreas(work, given);
}

function printAreas({ stops120, dodges120 }: Print, { lights, restsLost, restsHandedOn }: Pulses): Area[] {
  const all = lights.reduce(sum);
  const dodged = dodges120.map((dodge, index) => ({
    stops120: stops120 + dodge,
    lightUs: difference(all, lights[index]!),
    // What one piece lacks the next one gives, but here the hand was away at one of the two.
    restsLost: restsLost + restsHandedOn,
  }));
  return [{ stops120, lightUs: all, restsLost }, ...dodged];
}

function burnAreas({ stops120 }: Burn, { lights, restsLost }: Pulses): Area[] {
  return [
    { stops120: 0, lightUs: lights[0]!, restsLost },
    { stops120, lightUs: lights.reduce(sum), restsLost },
  ];
}

function stripAreas({ step120, separate }: Strip, { lights, restsLost }: Pulses): Area[] {
  let given = exactly(0);
  return lights.map((light, patch) => {
    given = separate ? light : sum(given, light);
    return { stops120: step120 * patch, lightUs: given, restsLost };
  });
}

interface Pulses {
  readonly lights: Between[];
  restsLost: number;
  restsHandedOn: number;
  coversGlow: boolean;
}

/** Gives the plan pulse by pulse, as an evening does: each is booked, and what it lacks is left to the next. */
function lightOfPieces(lamp: ExactLamp, cuts: readonly number[]): Pulses {
  const lights = Array.from({ length: core.planPieceCount() }, () => exactly(0));
  const given: Pulses = { lights, restsLost: 0, restsHandedOn: 0, coversGlow: false };
  let next = 0;
  for (let pulses = 0; next < lights.length; pulses++) {
    if (pulses === MOST_PULSES) throw new Error('the plan does not end');
    next = givePulse(given, lamp, next, cuts[pulses] ?? 1);
  }
  return given;
}

/** Answers the piece that the next pulse begins with. */
function givePulse(given: Pulses, lamp: ExactLamp, first: number, share: number): number {
  const [end, wholeUs] = [core.planPulseEnd(first), core.planPulseOnUs(first) >>> 0];
  const onUs = Math.ceil(wholeUs * share);
  for (const { piece, lightUs } of stretches(lamp, first, onUs))
    given.lights[piece] = sum(given.lights[piece]!, lightUs);
  const pass = core.planPiecePass(first);
  const next = core.planBookPulse(first, onUs);
  if (onUs < wholeUs && next === end) {
    if (next < given.lights.length && core.planPiecePass(next) === pass) given.restsHandedOn++;
    else given.restsLost++;
  }
  if (onUs < wholeUs && end - first > 1) given.coversGlow = true;
  return next;
}

/** A piece has the light between its ends; the last that the pulse came to has the afterglow as well. */
function stretches(lamp: ExactLamp, first: number, onUs: number): { piece: number; lightUs: Between }[] {
  const [end, found] = [core.planPulseEnd(first), [] as { piece: number; lightUs: Between }[]];
  let [endsUs, before] = [0, exactly(0)];
  for (let piece = first; piece < end; piece++) {
    endsUs += core.planPieceOnUs(piece) >>> 0;
    const isLast = endsUs >= onUs || piece === end - 1;
    const until = isLast ? lamp.doseUs(onUs) : lamp.lightUs(endsUs);
    found.push({ piece, lightUs: difference(until, before) });
    before = until;
    if (isLast) break;
  }
  return found;
}
