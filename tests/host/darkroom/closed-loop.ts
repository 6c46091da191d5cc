import fc from 'fast-check';
import { LampTrace, lampFromLagAndRise, type RelayEdge } from '../../../host/darkroom/light/lamp.js';
import { segmentLightMs } from '../../../host/darkroom/sheet/exposed-sheet.js';
import {
  type Lamp,
  loadPlanner,
  PlanError,
  type PlannableRecipe,
  type StripRequest,
} from '../../../host/recipe/planner/index.js';

/**
 * The loop from asked-for dose to light and back: the core plans, a relay carries the plan out with the
 * gaps that hands make, the virtual lamp integrates the relay's edges, and every patch and area is compared
 * with what was asked for. The virtual lamp does not know the core's formula, nor the core the virtual lamp.
 */
const planner = loadPlanner();

/** What one patch or area was to have and had, in milliseconds of full light. */
export interface Area {
  readonly what: string;
  readonly askedMs: number;
  readonly gotMs: number;
}

export interface Evening {
  readonly lamp: Lamp;
  /** Dark times between pulses, taken in turn, as hands and feet make them. */
  readonly gapsMs: readonly number[];
  /** Where in a pulse it is cut short and resumed, as a share of it; 0 for no pause. */
  readonly pauseShares: readonly number[];
}

export const lampArbitrary: fc.Arbitrary<Lamp> = fc.record({
  lagMs: fc.integer({ min: 0, max: 400 }),
  riseMs: fc.integer({ min: 0, max: 250 }),
});

export const eveningArbitrary: fc.Arbitrary<Evening> = fc.record({
  lamp: lampArbitrary,
  gapsMs: fc.array(fc.integer({ min: 700, max: 9000 }), { minLength: 1, maxLength: 5 }),
  pauseShares: fc.array(fc.constantFrom(0, 0, 0, 0.35, 0.6), { minLength: 1, maxLength: 5 }),
});

export const stripArbitrary: fc.Arbitrary<StripRequest> = fc.record({
  firstMs: fc.integer({ min: 1500, max: 20_000 }),
  step: fc.oneof(
    fc.record({ stops120: fc.integer({ min: 30, max: 120 }) }),
    fc.record({ equalMs: fc.integer({ min: 1000, max: 8000 }) }),
  ),
  patches: fc.integer({ min: 2, max: 8 }),
  cover: fc.constantFrom('cumulative' as const, 'separate' as const),
});

const dodgeArbitrary = fc.record({
  label: fc.constant('dodge'),
  stops120: fc.integer({ min: -60, max: -20 }),
});
const baseArbitrary = fc.record({
  kind: fc.constant('base' as const),
  label: fc.constant('base'),
  filter: fc.constantFrom('', '2', '4'),
  stops120: fc.integer({ min: -120, max: 60 }),
  dodges: fc.array(dodgeArbitrary, { maxLength: 3 }),
});
const burnArbitrary = fc.record({
  kind: fc.constant('burn' as const),
  label: fc.constant('burn'),
  filter: fc.constantFrom('', '00'),
  stops120: fc.integer({ min: 20, max: 240 }),
  dodges: fc.constant([]),
});

export const recipeArbitrary: fc.Arbitrary<PlannableRecipe> = fc.record({
  baseMs: fc.integer({ min: 6000, max: 60_000 }),
  dryDown10: fc.integer({ min: 0, max: 150 }),
  passes: fc
    .tuple(fc.array(baseArbitrary, { minLength: 1, maxLength: 3 }), fc.array(burnArbitrary, { maxLength: 3 }))
    .map(([bases, burns]) => [...bases, ...burns]),
});

/** The strip's patches under this lamp; undefined where the core refuses the plan. */
export function stripAreas(
  request: StripRequest,
  evening: Evening,
  compensated: boolean,
): Area[] | undefined {
  const strip = tried(() => planner.planStrip({ ...request, lamp: evening.lamp }));
  if (strip === undefined) return undefined;
  const ownLamp = { ...request, ...(compensated && { lamp: evening.lamp }) };
  const lightMs = carriedLightMs(evening, (pulsesUs) => planner.carryOutStrip(ownLamp, pulsesUs));
  const exposures = strip.exposures.map((_, pass) => lightMs.get(`${pass}/0`) ?? 0);
  return strip.patches.map(({ patch, doseMs }, index) => ({
    what: `patch ${patch}`,
    askedMs: doseMs,
    gotMs:
      request.cover === 'separate'
        ? exposures[index]!
        : exposures.slice(0, index + 1).reduce((sum, each) => sum + each, 0),
  }));
}

/** Every area of the print: each burn, each dodged area, and the paper that no tool touched. */
export function recipeAreas(
  recipe: PlannableRecipe,
  evening: Evening,
  dodgesStop: boolean,
  compensated: boolean,
): Area[] | undefined {
  const plan = tried(() => planner.planRecipe(recipe, { lamp: evening.lamp, dodgesStop }));
  if (plan === undefined) return undefined;
  const conditions = { dodgesStop, ...(compensated && { lamp: evening.lamp }) };
  const lightMs = carriedLightMs(evening, (pulsesUs) => planner.carryOutRecipe(recipe, pulsesUs, conditions));
  const got = (pass: number) =>
    plan.passes[pass]!.segments.map((_, segment) => lightMs.get(`${pass}/${segment}`) ?? 0);
  return plan.passes.flatMap((pass, index) => {
    const wholeMs = got(index).reduce((sum, each) => sum + each, 0);
    const untouched = { what: `pass ${index + 1}, ${pass.kind}`, askedMs: pass.doseMs, gotMs: wholeMs };
    const dodged = pass.segments.flatMap((segment, at) =>
      segment.kind === 'open'
        ? []
        : [
            {
              what: `pass ${index + 1}, under dodge ${at + 1}`,
              askedMs: pass.doseMs - segment.doseMs,
              gotMs: wholeMs - got(index)[at]!,
            },
          ],
    );
    return [untouched, ...dodged];
  });
}

/** Works the pedal pulse by pulse: the next pulse is what the plan says then, shortened where a pause falls. */
function carriedLightMs(
  evening: Evening,
  carryOut: (pulsesUs: number[]) => ReturnType<typeof planner.carryOutStrip>,
) {
  const pulsesUs: number[] = [];
  const endless = 4_000_000_000;
  for (;;) {
    const ahead = tried(() => carryOut([...pulsesUs, endless]));
    if (ahead === undefined) break;
    const fullUs = ahead.at(-1)!.at(-1)!.untilUs;
    const share = evening.pauseShares[pulsesUs.length % evening.pauseShares.length]!;
    pulsesUs.push(share > 0 && fullUs > 6_000_000 ? Math.round(fullUs * share) : fullUs);
  }
  const edges = edgesOf(pulsesUs, evening.gapsMs);
  const trace = new LampTrace(lampFromLagAndRise(evening.lamp.lagMs, evening.lamp.riseMs), edges);
  return segmentLightMs({ carried: carryOut(pulsesUs), edges, trace });
}

function edgesOf(pulsesUs: readonly number[], gapsMs: readonly number[]): RelayEdge[] {
  let atUs = 0;
  return pulsesUs.flatMap((onUs, pulse) => {
    const fromUs = atUs + gapsMs[pulse % gapsMs.length]! * 1000;
    atUs = fromUs + onUs;
    return [
      { atUs: fromUs, on: true },
      { atUs, on: false },
    ];
  });
}

/** Undefined where the core refuses: a plan that this lamp cannot give, or a pulse after the last. */
function tried<T>(ask: () => T): T | undefined {
  try {
    return ask();
  } catch (error) {
    if (error instanceof PlanError || (error instanceof Error && error.name === 'PulseError'))
      return undefined;
    throw error;
  }
}

export function errorShare({ askedMs, gotMs }: Area): number {
  return Math.abs(gotMs / askedMs - 1);
}
