import { formatStops, type Recipe, type RecipePass } from '../../recipe/index.js';
import type { PlannedPass, RecipePlan } from '../../recipe/planner/index.js';
import type { Shape } from '../../recipe/shape.js';
import type { AreaKind } from './area-drawing.js';

/** An area that the hands work on, numbered in the order of the work. */
export interface WorkArea {
  readonly number: number;
  readonly kind: AreaKind;
  readonly label: string;
  readonly stops: string;
  readonly shape: Shape | undefined;
}

/** One line of the order of work. */
export interface WorkLine {
  /** A pass as a whole, or one segment of a pass that has dodges in it. */
  readonly level: 'pass' | 'segment';
  readonly area?: WorkArea;
  readonly what: string;
  readonly filter: string;
  readonly stops: string;
  readonly doseMs: number;
  /** The lamp waits for the pedal before it. */
  readonly pedalFirst: boolean;
}

/** The order of work of a recipe, from the plan that the board will carry out. */
export function orderOfWork(recipe: Recipe, plan: RecipePlan): WorkLine[] {
  const lines: WorkLine[] = [];
  plan.passes.forEach((planned, index) => {
    const areasSoFar = areasOf(lines).length;
    lines.push(...passLines(planned, recipe.passes[index]!, areasSoFar));
  });
  return lines;
}

export function areasOf(lines: readonly WorkLine[]): WorkArea[] {
  return lines.flatMap(({ area }) => area ?? []);
}

function passLines(planned: PlannedPass, pass: RecipePass, areasSoFar: number): WorkLine[] {
  const burn = pass.kind === 'burn' ? areaOf('burn', pass, areasSoFar + 1) : undefined;
  const dodged = pass.dodges.length > 0;
  const head: WorkLine = {
    level: 'pass',
    ...(burn && { area: burn }),
    what: burn ? `burn ${pass.label}` : passName(pass.label),
    filter: pass.filter === '' ? 'none' : pass.filter,
    stops: minus(formatStops(pass.stops120)),
    doseMs: planned.doseMs,
    pedalFirst: !dodged,
  };
  return dodged ? [head, ...segmentLines(planned, pass, areasSoFar + (burn ? 1 : 0))] : [head];
}

function segmentLines(planned: PlannedPass, pass: RecipePass, areasSoFar: number): WorkLine[] {
  return planned.segments.map(({ doseMs, stopsFirst, kind }, index) => {
    const dodge = kind === 'dodge' ? pass.dodges[index] : undefined;
    const area = dodge && areaOf('dodge', dodge, areasSoFar + index + 1);
    return {
      level: 'segment',
      ...(area && { area }),
      what: area ? `dodge ${area.label}` : 'no dodge',
      filter: '',
      stops: area?.stops ?? '',
      doseMs,
      pedalFirst: stopsFirst,
    };
  });
}

function areaOf(
  kind: AreaKind,
  from: { label: string; stops120: number; shape?: Shape | undefined },
  number: number,
): WorkArea {
  return { number, kind, label: from.label, stops: minus(formatStops(from.stops120)), shape: from.shape };
}

/** 'base' where the pass is called just that, 'base, soft' where it has a name of its own. */
function passName(label: string): string {
  return label === 'base' || label === '' ? 'base' : `base, ${label}`;
}

/** A minus as wide as the plus, in place of the file's hyphen. */
export function minus(text: string): string {
  return text.replace(/^-/, '\u2212');
}
