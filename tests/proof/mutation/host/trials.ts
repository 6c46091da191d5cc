/** Runs the tests of a part of the host with one change after another, in one process. */
import { join } from 'node:path';
import fc from 'fast-check';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type Check, checksOf } from '../core/vitest.js';
import { saidBy } from '../said-by.js';
import { sourcesOf, testsOf } from './areas.js';
import { runInTurn } from './in-turn.js';

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

/** What one process has measured, for the next. */
export interface Reach {
  readonly name: string;
  readonly ms: number;
  readonly met: readonly number[];
}

const SEED = 1;
/** A test that computes for longer is not tried. */
const LONGEST_MS = 3000;
/** For what waits for ever. */
const LIMIT_MS = 20_000;
const NONE = -1;

const ownRecords = join(projectRoot, 'tests/setup/own-records.ts');

interface FileOfChecks {
  readonly alone: readonly Check[];
  /** All of them. */
  readonly inTurn: Check;
}

/** The tests as they are loaded once, with the one change that is done from the first line on, or with none. */
export class HostTrials {
  readonly #anew: (file: string) => Promise<unknown>;
  readonly #files: FileOfChecks[] = [];
  #done: number;
  #met = new Set<number>();
  #whileLoaded: ReadonlySet<number> = new Set();
  #measured: Measured[] = [];

  constructor(anew: (file: string) => Promise<unknown>, done = NONE) {
    this.#anew = anew;
    this.#done = done;
    fc.configureGlobal({ seed: SEED, endOnFailure: true });
  }

  async load(area: string, only: string): Promise<void> {
    this.takeOver();
    await checksOf(ownRecords, () => this.#anew(ownRecords));
    // A command is loaded when it is used for the first time: before that what is in its sources would be come upon there.
    for (const file of sourcesOf(area)) await import(/* @vite-ignore */ join(projectRoot, file));
    for (const file of testsOf(area, only)) this.#files.push(await this.#checksIn(file));
    this.#whileLoaded = this.#met;
  }

  /** Each is read anew with its file before it runs: a folder that the file made is gone after the test before. */
  async #checksIn(file: string): Promise<FileOfChecks> {
    const read = () => checksOf(file, () => this.#anew(join(projectRoot, file)));
    const run = async (at: number) => (await read())[at]!.run();
    const alone = (await read()).map(({ name }, at) => ({ name, run: () => run(at) }));
    return { alone, inTurn: { name: `${file}, in turn`, run: async () => runInTurn(await read()) } };
  }

  /** What the sources ask at each change: whether it is done. */
  takeOver(): void {
    const treadleChange = (number: number) => {
      this.#met.add(number);
      return number === this.#done;
    };
    Object.assign(globalThis, { treadleChange });
  }

  /** A file some of whose checks pass only after others is tried as a whole as well. */
  async measure(): Promise<void> {
    for (const { alone, inTurn } of this.#files) {
      let passed = true;
      for (const check of alone) passed = (await this.#measure(check)) === undefined && passed;
      const said = passed ? undefined : await this.#measure(inTurn);
      if (said !== undefined)
        process.stderr.write(`left out, since it fails by itself here: ${inTurn.name}: ${said}\n`);
    }
    this.#measured.sort((one, other) => one.ms - other.ms);
  }

  async #measure(check: Check): Promise<string | undefined> {
    this.#met = new Set();
    const begunMs = busyMs();
    const said = await saidBy(check, LIMIT_MS);
    const ms = busyMs() - begunMs;
    if (said === undefined && ms <= LONGEST_MS) this.#measured.push({ check, ms, met: this.#met });
    return said;
  }

  get reach(): Reach[] {
    return this.#measured.map(({ check, ms, met }) => ({ name: check.name, ms, met: [...met] }));
  }

  /** In place of measuring. */
  take(reach: readonly Reach[]): void {
    const checks = new Map(this.#checks.map((check) => [check.name, check]));
    this.#measured = reach.map(({ name, ms, met }) => ({ check: checks.get(name)!, ms, met: new Set(met) }));
  }

  get #checks(): Check[] {
    return this.#files.flatMap(({ alone, inTurn }) => [...alone, inTurn]);
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
