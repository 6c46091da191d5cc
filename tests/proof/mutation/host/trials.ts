/** Runs the tests of a part of the host with one change after another, in one process. */
import { join } from 'node:path';
import fc from 'fast-check';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type CheckInSuites, checksOf } from '../core/vitest.js';
import { saidBy } from '../said-by.js';
import { sourcesOf, testsOf } from './areas.js';
import { runInTurn } from './in-turn.js';

export type HostVerdict =
  | { readonly is: 'noticed'; readonly by: string; readonly said: string }
  | { readonly is: 'not noticed' | 'not reached' }
  /** Its check fails without it as well, after it: another process is to try it. */
  | { readonly is: 'unsure'; readonly by: string };

/** One check of a file of tests, or all of them one after another. */
export interface Place {
  readonly file: string;
  readonly at: number | 'all';
  readonly name: string;
}

/** What a check takes, and which changes it comes upon: measured by one process, and taken by the next. */
export interface Reach extends Place {
  readonly ms: number;
  readonly met: readonly number[];
}

interface Measured extends Place {
  readonly ms: number;
  readonly met: ReadonlySet<number>;
}

const SEED = 1;
/** A test that computes for longer is not tried. */
const LONGEST_MS = 3000;
/** For what waits for ever. */
const LIMIT_MS = 20_000;
const NONE = -1;

const ownRecords = join(projectRoot, 'tests/setup/own-records.ts');

/** The sources as they are loaded once, with the one change that is done from the first line on, or with none. */
export class HostTrials {
  readonly #anew: (file: string) => Promise<unknown>;
  readonly #begin: (check: Place) => void;
  #done: number;
  #met = new Set<number>();
  #whileLoaded: ReadonlySet<number> = new Set();
  #measured: Measured[] = [];

  /** @param begin is told of each check before it runs */
  constructor(anew: (file: string) => Promise<unknown>, begin: (check: Place) => void, done = NONE) {
    this.#anew = anew;
    this.#begin = begin;
    this.#done = done;
    fc.configureGlobal({ seed: SEED, endOnFailure: true });
    this.takeOver();
  }

  /** What the sources ask at each change: whether it is done. */
  takeOver(): void {
    const treadleChange = (number: number) => {
      this.#met.add(number);
      return number === this.#done;
    };
    Object.assign(globalThis, { treadleChange });
  }

  async load(area: string, only: string): Promise<void> {
    await checksOf(ownRecords, () => this.#anew(ownRecords));
    // A command is loaded when it is used for the first time: before that what is in its sources would be come upon there.
    for (const file of sourcesOf(area)) await import(/* @vite-ignore */ join(projectRoot, file));
    for (const file of testsOf(area, only)) await this.#read(file);
    this.#whileLoaded = this.#met;
  }

  /** Anew for each check: a folder that the file made is gone after the one before. */
  #read(file: string): Promise<CheckInSuites[]> {
    return checksOf(file, () => this.#anew(join(projectRoot, file)));
  }

  #saidAt(place: Place): Promise<string | undefined> {
    const { file, at, name } = place;
    this.#begin({ file, at, name });
    const run = async () => {
      const checks = await this.#read(file);
      await (at === 'all' ? runInTurn(checks) : checks[at]!.run());
    };
    return saidBy({ name, run }, LIMIT_MS);
  }

  /** A file some of whose checks pass only after others is tried as a whole as well. */
  async measure(area: string, only: string): Promise<void> {
    for (const file of testsOf(area, only)) {
      let passed = true;
      for (const [at, { name }] of (await this.#read(file)).entries())
        passed = (await this.#measure({ file, at, name })) === undefined && passed;
      const all: Place = { file, at: 'all', name: `${file}, in turn` };
      const said = passed ? undefined : await this.#measure(all);
      if (said !== undefined)
        process.stderr.write(`left out, since it fails by itself here: ${all.name}: ${said}\n`);
    }
    this.#measured.sort((one, other) => one.ms - other.ms);
  }

  async #measure(place: Place): Promise<string | undefined> {
    this.#met = new Set();
    const begunMs = busyMs();
    const said = await this.#saidAt(place);
    const ms = busyMs() - begunMs;
    if (said === undefined && ms <= LONGEST_MS) this.#measured.push({ ...place, ms, met: this.#met });
    return said;
  }

  get reach(): Reach[] {
    return this.#measured.map(({ met, ...place }) => ({ ...place, met: [...met] }));
  }

  /** In place of measuring. */
  take(reach: readonly Reach[]): void {
    this.#measured = reach.map(({ met, ...place }) => ({ ...place, met: new Set(met) }));
  }

  /** Whether it is come upon only while the sources are loaded: they are to be loaded with it. */
  isOfLoading(number: number): boolean {
    return this.#whileLoaded.has(number) && !this.#measured.some(({ met }) => met.has(number));
  }

  /** Of each file of tests in which one comes upon any of these, or of all; quickest first. Others of it may read a table. */
  placesOf(numbers: ReadonlySet<number>): readonly Place[] {
    const near = this.#measured.filter(({ met }) => [...met].some((number) => numbers.has(number)));
    const files = new Set(near.map(({ file }) => file));
    return files.size > 0 ? this.#measured.filter(({ file }) => files.has(file)) : this.#measured;
  }

  async try(number: number): Promise<HostVerdict> {
    const reaching = this.#measured.filter(({ met }) => met.has(number));
    if (reaching.length === 0) return { is: 'not reached' };
    for (const place of reaching) {
      this.#done = number;
      const said = await this.#saidAt(place);
      this.#done = NONE;
      if (said === undefined) continue;
      const saysSo = (await this.#saidAt(place)) !== undefined;
      return saysSo ? { is: 'unsure', by: place.name } : { is: 'noticed', by: place.name, said };
    }
    return { is: 'not noticed' };
  }

  /** Without any change. */
  async passes(place: Place): Promise<boolean> {
    return (await this.#saidAt(place)) === undefined;
  }

  /** With the change from the first line on. */
  async tryThese(places: readonly Place[]): Promise<HostVerdict> {
    await checksOf(ownRecords, () => this.#anew(ownRecords));
    for (const place of places) {
      const said = await this.#saidAt(place);
      if (said !== undefined) return { is: 'noticed', by: place.name, said };
    }
    return { is: 'not noticed' };
  }
}

function busyMs(): number {
  return process.cpuUsage().user / 1000;
}
