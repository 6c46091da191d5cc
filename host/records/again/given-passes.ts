/** What light a sheet got, pass by pass. */
import { InputError } from '../../errors.js';
import { seconds } from '../../figures.js';
import type { ExposureEntry } from '../log/log-entry.js';
import type { PrintedSheet } from './printed-sheet.js';

/** A sheet that no recipe can be made of, and why. */
export class SheetError extends InputError {
  override readonly name = 'SheetError';
}

/** One pass of a print as it was really given. */
export interface GivenPass {
  /** Of the recipe, from 1. */
  readonly pass: number;
  readonly kind: 'base' | 'burn';
  readonly label: string;
  readonly filter: string;
  readonly plannedMs: number;
  /** All its lights together. */
  readonly doseMs: number;
  /** One by one, where the pass was begun anew; one that was gone on with is one. */
  readonly lightsMs: readonly number[];
}

export interface GivenOptions {
  /** Light that a power cut ended, of which nobody knows how much fell, is taken as wholly given. */
  readonly cutAsPlanned?: boolean;
}

/** In the order of the recipe; a pass that got no light is not among them. @throws SheetError */
export function givenPasses(sheet: PrintedSheet, options: GivenOptions = {}): GivenPass[] {
  refuseOther(sheet);
  const byPass = new Map<number, ExposureEntry[]>();
  for (const light of sheet.lights) byPass.set(light.pass, [...(byPass.get(light.pass) ?? []), light]);
  const passes = [...byPass]
    .sort(([one], [other]) => one - other)
    .map(([pass, lights]) => givenPass(pass, lights, options));
  const given = passes.filter(({ doseMs }) => doseMs > 0);
  if (given.length === 0) throw new SheetError(`sheet ${sheet.sheet} got no light`);
  return given;
}

const otherJobs = {
  strip: 'a strip',
  bracket: 'a bracket',
  'lamp-test': 'a lamp test',
  'safelight-test': 'a safelight test',
  'stray-light-test': 'a test for stray light',
  clock: 'no light at all',
  checkup: 'no light at all',
  process: 'no light at all',
  none: 'no light at all',
} as const;

function refuseOther({ sheet, job }: PrintedSheet): void {
  if (job === 'recipe' || job === 'plain') return;
  throw new SheetError(
    `sheet ${sheet} was ${otherJobs[job]}, not a print: 'treadle nights --night last' lists the sheets`,
  );
}

function givenPass(pass: number, lights: readonly ExposureEntry[], options: GivenOptions): GivenPass {
  const last = lights.at(-1)!;
  // A pass that is gone on with says what was left of it.
  const plannedMs = Math.max(...lights.map((light) => light.plannedMs));
  const lightsMs: number[] = [];
  for (const light of lights) {
    const goesOn = lightsMs.length > 0 && light.plannedMs < plannedMs;
    const beforeMs = goesOn ? lightsMs.pop()! : 0;
    lightsMs.push(beforeMs + doseOf(light, options));
  }
  return {
    pass,
    kind: last.kind === 'burn' ? 'burn' : 'base',
    label: last.label,
    filter: last.filter,
    plannedMs,
    doseMs: lightsMs.reduce((sum, doseMs) => sum + doseMs, 0),
    lightsMs,
  };
}

function doseOf({ outcome, doseMs, plannedMs, pass, label }: ExposureEntry, options: GivenOptions): number {
  if (outcome !== 'interrupted') return doseMs;
  if (options.cutAsPlanned) return plannedMs;
  throw new SheetError(
    `the power failed while pass ${pass}${label === '' ? '' : `, ${label},`} was given: how much of its ` +
      `${seconds(plannedMs)} fell is in no log. '--cut-as-planned' takes all of it`,
  );
}
