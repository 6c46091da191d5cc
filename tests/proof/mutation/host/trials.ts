/** Runs the tests of a part of the host with one change after another, in one process. */
import { join } from 'node:path';
import fc from 'fast-check';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type Check, checksOf } from '../core/vitest.js';
import { saidBy } from '../said-by.js';
import { testsOf } from './areas.js';

export type HostVerdict =
  | { readonly is: 'noticed'; readonly by: string; readonly said: string }
  | { readonly is: 'not noticed' | 'not reached' }
  /** Its check fails without it as well, after it: another process is to try it. */
  | { readonly is: 'unsure'; readonly by: string };

interface Measured {
  readonly check: Check;
  readonly ms: number;
  readonly met: ReadonlySet<number>;
}

const SEED = 1;
/** A test that computes for longer is not tried. */
const LONGEST_MS = 3000;
/** For what waits for ever. */
const LIMIT_MS = 20_000;
const NONE = -1;

/** The tests as they are loaded once, with the one change that is done from the first line on, or with none. */
export class HostTrials {
  readonly #checks: Check[] = [];
  #done: number;
  #met = new Set<number>();
  #whileLoaded: ReadonlySet<number> = new Set();
  #measured: Measured[] = [];

  constructor(done = NONE) {
    this.#done = done;
    fc.configureGlobal({ seed: SEED, endOnFailure: true });
  }

  async load(area: string, only: string): Promise<void> {
    this.takeOver();
    for (const file of testsOf(area, only)) {
      const load = () => import(/* @vite-ignore */ join(projectRoot, file));
      this.#checks.push(...(await checksOf(file, load)));
    }
    this.#whileLoaded = this.#met;
  }

  /** What the sources ask at each change: whether it is done. */
  takeOver(): void {
    const treadleChange = (number: number) => {
      this.#met.add(number);
      return number === this.#done;
    };
    Object.assign(globalThis, { treadleChange });
  }

  async measure(): Promise<void> {
    for (const check of this.#checks) {
      this.#met = new Set();
      const begunMs = busyMs();
      const said = await saidBy(check, LIMIT_MS);
      const ms = busyMs() - begunMs;
      if (said !== undefined)
        process.stderr.write(`left out, since it fails by itself here: ${check.name}: ${said}\n`);
      else if (ms <= LONGEST_MS) this.#measured.push({ check, ms, met: this.#met });
    }
    this.#measured.sort((one, other) => one.ms - other.ms);
  }

  /** Whether it is come upon only while the sources are loaded: they are to be loaded with it. */
  isOfLoading(number: number): boolean {
    return this.#whileLoaded.has(number) && !this.#measured.some(({ met }) => met.has(number));
  }

  /** Of the tests that come upon any of these. */
  namesOf(numbers: ReadonlySet<number>): Set<string> {
    const near = this.#measured.filter(({ met }) => [...met].some((number) => numbers.has(number)));
    return new Set((near.length > 0 ? near : this.#measured).map(({ check }) => check.name));
  }

  async try(number: number): Promise<HostVerdict> {
    const reaching = this.#measured.filter(({ met }) => met.has(number));
    if (reaching.length === 0) return { is: 'not reached' };
    for (const { check } of reaching) {
      this.#done = number;
      const said = await saidBy(check, LIMIT_MS);
      this.#done = NONE;
      if (said === undefined) continue;
      const saysSo = (await saidBy(check, LIMIT_MS)) !== undefined;
      return saysSo ? { is: 'unsure', by: check.name } : { is: 'noticed', by: check.name, said };
    }
    return { is: 'not noticed' };
  }

  async tryThese(names: ReadonlySet<string>): Promise<HostVerdict> {
    for (const check of this.#checks.filter(({ name }) => names.has(name))) {
      const said = await saidBy(check, LIMIT_MS);
      if (said !== undefined) return { is: 'noticed', by: check.name, said };
    }
    return { is: 'not noticed' };
  }
}

function busyMs(): number {
  return process.cpuUsage().user / 1000;
}
