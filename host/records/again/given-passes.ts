/** What light a sheet got, pass by pass. */
import { InputError } from '../../errors.js';
import { seconds } from '../../figures.js';
import type { ExposureEntry } from '../log/log-entry.js';
import { jobWords } from './job-words.js';
import type { PrintedSheet } from './printed-sheet.js';

/** A sheet that no recipe can be made of, and why. */
export class SheetError extends InputError {
  override readonly name: string = 'SheetError';
}

/** Light that a power cut ended, of which the log has only that it was begun: somebody has to say how much fell. */
export class CutLightError extends SheetError {
  override readonly name = 'CutLightError';
  /** Of which pass, in words. */
  readonly what: string;
  /** No more than this can have fallen. */
  readonly plannedMs: number;

  constructor({ pass, label, plannedMs }: Pick<ExposureEntry, 'pass' | 'label' | 'plannedMs'>) {
    const what = `pass ${pass}${label === '' ? '' : `, ${label}`}`;
    super(
      `the power failed while ${what}, was given: anything between nothing and the ${seconds(plannedMs)} planned fell, ` +
        "and no log has more. Say how much: '--cut all', '--cut none', or a time as '--cut 5s'",
    );
    this.what = what;
    this.plannedMs = plannedMs;
  }
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
  /** How much fell of light that a power cut ended, in milliseconds, or all that was planned; left out, nobody knows. */
  readonly cut?: number | 'all';
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

function refuseOther({ sheet, job }: PrintedSheet): void {
  if (job === 'recipe' || job === 'plain') return;
  throw new SheetError(
    `sheet ${sheet} was ${jobWords[job]}, not a print: 'treadle nights --night last' lists the sheets`,
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

function doseOf(light: ExposureEntry, { cut }: GivenOptions): number {
  const { outcome, doseMs, plannedMs } = light;
  if (outcome !== 'interrupted') return doseMs;
  if (cut === undefined) throw new CutLightError(light);
  if (cut === 'all') return plannedMs;
  if (cut <= plannedMs) return cut;
  throw new SheetError(`${seconds(cut)} cannot have fallen: no more than ${seconds(plannedMs)} were planned`);
}
