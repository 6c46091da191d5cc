import type { CarriedSegment, RecipePlan, StripPlan } from '../../recipe/planner/index.js';
import type { Shape } from '../../recipe/shape.js';
import type { LampTrace, RelayEdge } from '../light/lamp.js';
import type { Band, SheetLight, Tool } from './sheet.js';

/** Where the hands go: for each pass of the plan, the burn's area and the areas of its dodges, in order. */
export interface PassShapes {
  /** The area that a burn lights; a base pass has none. */
  readonly shape?: Shape | undefined;
  readonly dodges: readonly (Shape | undefined)[];
}

/** What the sheet received, and what could not be placed because the recipe gives no shape for it. */
export interface ExposedSheet {
  readonly lights: readonly SheetLight[];
  readonly unplaced: readonly string[];
}

/** Milliseconds of full light for one segment of a plan. */
export type SegmentLight = (pass: number, segment: number) => number;

/**
 * A plan carried out to the letter. A dodge without a shape shades nothing and a burn without one is left
 * out, since on the whole sheet it would be another print; both are named in `unplaced`.
 * @param lux at the easel with no negative.
 */
export function sheetAsPlanned(plan: RecipePlan, shapes: readonly PassShapes[], lux: number): ExposedSheet {
  return sheetWith(plan, shapes, lux, (pass, segment) => plan.passes[pass]!.segments[segment]!.doseMs);
}

/**
 * A plan as the lamp really carried it out.
 */
export function sheetAsGiven(
  plan: RecipePlan,
  shapes: readonly PassShapes[],
  lux: number,
  given: GivenLight,
): ExposedSheet {
  const lightMs = segmentLightMs(given);
  return sheetWith(plan, shapes, lux, (pass, segment) => lightMs.get(placeKey(pass, segment)) ?? 0);
}

/** The lamp's work on one sheet. */
export interface GivenLight {
  /** Which stretch of each pulse belonged to which segment: the planner's `carryOutRecipe` or `carryOutStrip`. */
  readonly carried: readonly (readonly CarriedSegment[])[];
  /** The relay's, of these pulses and no others: the light for focusing left out. */
  readonly edges: readonly RelayEdge[];
  readonly trace: LampTrace;
}

/** A plan carried out with whatever light each of its segments has had so far. */
export function sheetWith(
  plan: RecipePlan,
  shapes: readonly PassShapes[],
  lux: number,
  lightMs: SegmentLight,
): ExposedSheet {
  const lights: SheetLight[] = [];
  const unplaced: string[] = [];
  plan.passes.forEach(({ kind, filter, segments, label }, pass) => {
    const area = shapes[pass]?.shape;
    if (kind === 'burn' && area === undefined) {
      unplaced.push(label);
      return;
    }
    segments.forEach((segment, index) => {
      const dodged = segment.kind === 'dodge' ? shapes[pass]?.dodges[index] : undefined;
      if (segment.kind === 'dodge' && dodged === undefined) unplaced.push(segment.label);
      const light = { filter, luxSeconds: (lux * lightMs(pass, index)) / 1000 };
      lights.push(...shaded(light, kind === 'burn' ? area : undefined, dodged));
    });
  });
  return { lights: lights.filter(({ luxSeconds }) => luxSeconds > 0), unplaced };
}

/** A burn lights its area; a dodge shades its own. A burn is small, so a dodge inside one is not drawn. */
function shaded(light: SheetLight, area: Shape | undefined, dodged: Shape | undefined): SheetLight[] {
  const tool: Tool | undefined =
    area !== undefined
      ? { shape: area, shades: 'outside' }
      : dodged !== undefined
        ? { shape: dodged, shades: 'inside' }
        : undefined;
  return [tool === undefined ? light : { ...light, tool }];
}

/**
 * How the lamp's light fell to segments. A stretch begins with its segment; the last of a pulse lasts until
 * the relay closes again, so that nothing of the afterglow is lost.
 */
export function segmentLightMs({ carried, edges, trace }: GivenLight): Map<string, number> {
  const onUs = edges.filter(({ on }) => on).map(({ atUs }) => atUs);
  const light = new Map<string, number>();
  carried.forEach((stretches, pulse) => {
    stretches.forEach(({ pass, segment, fromUs, untilUs }, index) => {
      const start = onUs[pulse]! + fromUs;
      const isLast = index === stretches.length - 1;
      const end = isLast ? (onUs[pulse + 1] ?? Number.POSITIVE_INFINITY) : onUs[pulse]! + untilUs;
      const key = placeKey(pass, segment);
      light.set(key, (light.get(key) ?? 0) + trace.lightMs(start, end));
    });
  });
  return light;
}

/** What each of a strip's exposures gave, in milliseconds of full light: 0 for one that was not begun. */
export function stripExposuresMs(strip: StripPlan, given: GivenLight): number[] {
  const light = segmentLightMs(given);
  return strip.exposures.map((_, exposure) => light.get(placeKey(exposure, 0)) ?? 0);
}

function placeKey(pass: number, segment: number): string {
  return `${pass}/${segment}`;
}

/**
 * The patches of a strip, lightest at the left. Cumulative: the card covers one patch more after each
 * exposure, from the left; separate: each patch alone.
 * @param exposureMs milliseconds of full light of each exposure, as planned or as given.
 */
export function stripBands(
  strip: StripPlan,
  cover: 'cumulative' | 'separate',
  filter: string,
  lux: number,
  exposureMs: readonly number[] = strip.exposures.map(({ doseMs }) => doseMs),
): Band[] {
  const count = strip.patches.length;
  return strip.patches.map((_, patch) => ({
    fromPercent: (100 * patch) / count,
    toPercent: patch === count - 1 ? 100 : (100 * (patch + 1)) / count,
    lights: exposureMs
      .filter((_, exposure) => (cover === 'cumulative' ? exposure <= patch : exposure === patch))
      .map((lightMs) => ({ filter, luxSeconds: (lux * lightMs) / 1000 })),
  }));
}
