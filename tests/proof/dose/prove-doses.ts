import { loadCore } from '../../../host/recipe/planner/core.js';
import { limits } from '../../../shared-protocol/limits.js';
import { settings } from '../../../shared-protocol/schema.js';
import { Random } from '../../setup/random.js';
import { type Area, type Asked, areasGiven, plan } from './areas.js';
import { asNumber, type Between, difference, exactly, most, powerOfTwo, times } from './exact.js';
import type { LampFigures } from './exact-lamp.js';

/** Every offset from -5 to +5 stops, in turn. */
const MOST_STOPS120 = 600;
export const OFFSETS = 2 * MOST_STOPS120 + 1;
const LEAST_BASE_MS = 100;
const MOST_BASE_MS = 600_000;
/** Dodges and the open rest. */
const MOST_PIECES = 16;
const US_IN_MS = 1000n;
/** PlanCode of firmware/core/plan/plan.ts. */
const OK = 0;
const TOO_LONG = 3;
const BELOW_LAMP = 4;

/** The area that is farthest from its true value, of one kind of plans. */
export interface Worst {
  plans: number;
  areas: number;
  /** Of light asked for that the lamp cannot give or that takes above an hour. */
  refused: number;
  mostPieces: number;
  worstMs: number;
  asked: string;
}

export type Kind = `${Asked['work']['kind']}, ${'no lag' | 'lag and rise'}, ${'whole' | 'cut short'}`;

/** What was found, by kind; and whatever lies beyond `allowed`, in words. */
export interface Proof {
  readonly kinds: Map<Kind, Worst>;
  readonly beyond: string[];
}

const core = loadCore();

/** `count` seeded plans, each held against its true values. */
export function proveDoses(count: number, seed: number): Proof {
  const proof: Proof = { kinds: new Map(), beyond: [] };
  const random = new Random(seed);
  for (let index = 0; index < count; index++) proveOne(proof, anyAsked(random, index));
  return proof;
}

function proveOne(proof: Proof, wanted: Asked): void {
  const { asked, code } = withFewerDodges(wanted);
  const found = worstOf(proof, asked);
  found.plans++;
  if (code !== OK) {
    found.refused++;
    if (!isRefusedRightly(asked, code)) proof.beyond.push(`refused with ${code}: ${JSON.stringify(asked)}`);
    return;
  }
  const given = areasGiven(asked);
  found.mostPieces = Math.max(found.mostPieces, given.pieces);
  for (const area of given.areas) judge(proof, found, asked, area);
}

/** More dodges than the pass has room for is a refusal of its own; this asks for so many that there is room. */
function withFewerDodges(asked: Asked): { asked: Asked; code: number } {
  const code = plan(asked);
  const { work } = asked;
  if (code === OK || work.kind !== 'print' || work.dodges120.length === 0) return { asked, code };
  const dodges120 = work.dodges120.slice(0, work.dodges120.length >> 1);
  return withFewerDodges({ ...asked, work: { ...work, dodges120 } });
}

function judge(proof: Proof, found: Worst, asked: Asked, { stops120, lightUs, restsLost }: Area): void {
  const trueUs = trueLightUs(asked.baseMs, stops120);
  const offUs = most(difference(lightUs, trueUs));
  const offMs = asNumber(offUs) / 1000;
  found.areas++;
  const words = `${offMs.toFixed(6)} ms off at ${stops120}/120 stop: ${JSON.stringify(asked)}`;
  if (offMs > found.worstMs) [found.worstMs, found.asked] = [offMs, words];
  if (offUs > allowedUs(trueUs, restsLost)) proof.beyond.push(words);
}

/** 1 ms and 2^-20 of it; half a millisecond more for each rest below that, which no lamp can give. */
function allowedUs(trueUs: Between, restsLost: number): bigint {
  return exactly(US_IN_MS).low + (trueUs.low >> 20n) + exactly((US_IN_MS / 2n) * BigInt(restsLost)).low;
}

/** base x 2^(n/120), in microseconds. */
function trueLightUs(baseMs: number, stops120: number): Between {
  return times(powerOfTwo(stops120), BigInt(baseMs) * US_IN_MS);
}

/** What cannot be given is really too much or too little, somewhere in the plan. */
function isRefusedRightly({ baseMs, work }: Asked, code: number): boolean {
  const trueMs = (stops120: number) => asNumber(trueLightUs(baseMs, stops120).low) / 1000;
  if (work.kind === 'strip') {
    const steps = Array.from({ length: work.patches }, (_, patch) => trueMs(work.step120 * patch));
    const exposures = steps.map((ms, patch) => (work.separate ? ms : ms - (steps[patch - 1] ?? 0)));
    if (code === TOO_LONG) return steps.at(-1)! > limits.longestDoseMs - 1;
    // Each total is rounded, so a difference of two may be a millisecond less.
    return code === BELOW_LAMP && Math.min(...exposures) < core.minimumDoseMs() + 1;
  }
  const doseMs = work.kind === 'burn' ? trueMs(work.stops120) - baseMs : trueMs(work.stops120);
  if (code === TOO_LONG) return doseMs > limits.longestDoseMs - 1;
  const leastMs = work.kind === 'burn' ? Math.min(baseMs, doseMs) : doseMs;
  return code === BELOW_LAMP && leastMs < core.minimumDoseMs();
}

function worstOf({ kinds }: Proof, { work, lamp, cuts }: Asked): Worst {
  const hasLag = lamp.lagMs !== 0 || lamp.riseMs !== 0;
  const kind: Kind = `${work.kind}, ${hasLag ? 'lag and rise' : 'no lag'}, ${cuts.length > 0 ? 'cut short' : 'whole'}`;
  const found = kinds.get(kind) ?? {
    plans: 0,
    areas: 0,
    refused: 0,
    mostPieces: 0,
    worstMs: 0,
    asked: '',
  };
  kinds.set(kind, found);
  return found;
}

function anyAsked(random: Random, index: number): Asked {
  const stops120 = (index % OFFSETS) - MOST_STOPS120;
  return {
    baseMs: Math.round(LEAST_BASE_MS * (MOST_BASE_MS / LEAST_BASE_MS) ** random.share()),
    lamp: anyLamp(random),
    work: anyWork(random, stops120),
    cuts: random.chance(0.25) ? Array.from({ length: random.between(1, 8) }, () => anyCut(random)) : [],
  };
}

function anyLamp(random: Random): LampFigures {
  if (random.chance(0.5)) return { lagMs: 0, riseMs: 0 };
  const { 'lamp-lag-ms': lag, 'lamp-rise-ms': rise } = settings;
  // As lamps mostly are, or as far as the settings go.
  if (random.chance(0.5)) return { lagMs: random.between(0, 150), riseMs: random.between(0, 120) };
  return { lagMs: random.between(lag.min, lag.max), riseMs: random.between(rise.min, rise.max) };
}

/** Anywhere, or so near to the end that next to nothing is left. */
function anyCut(random: Random): number {
  return random.chance(0.5) ? random.share() : 1 - 10 ** -(2 + 4 * random.share());
}

function anyWork(random: Random, stops120: number): Asked['work'] {
  const form = random.below(4);
  if (form === 0 && stops120 > 0) return { kind: 'burn', stops120 };
  if (form === 1 && stops120 !== 0) return anyStrip(random, Math.abs(stops120));
  const dodges = random.between(0, MOST_PIECES - 1);
  const most120 = Math.ceil((2.2 * limits.stopParts) / Math.max(1, dodges));
  const dodges120 = Array.from({ length: dodges }, () => -random.between(1, most120));
  return { kind: 'print', stops120, dodges120, dodgesStop: random.chance(0.5) };
}

/** Its last patch is at `stops120` or a little below. */
function anyStrip(random: Random, stops120: number): Asked['work'] {
  const patches = Math.min(random.between(2, limits.stripPatches), stops120 + 1);
  const step120 = Math.floor(stops120 / (patches - 1));
  return { kind: 'strip', step120, patches: Math.max(2, patches), separate: random.chance(0.5) };
}
