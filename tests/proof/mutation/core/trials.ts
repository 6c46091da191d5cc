/** Runs the core's tests against mutants, all in one process. */
import { join } from 'node:path';
import binaryen from 'binaryen';
import fc from 'fast-check';
import { provideCore } from '../../../../host/core/load-core.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { saidBy } from '../said-by.js';
import { filesOfChecks } from './checks.js';
import { type Bounds, boundBy, busyMs, handIn, spent, takeOver } from './handed-in.js';
import { type Mutant, mutantsOf } from './mutants.js';
import { Rewriter } from './rewrite.js';
import { type Check, checksOf } from './vitest.js';
import { readWholeCore } from './whole-core.js';

const SEED = 1;
const unbounded: Bounds = { fuel: 0x7fff_ffff, calls: 1e12 };
/** A core that leaves marks takes so many times as long. */
const SLOWER = 3;
/** Longer than the slowest check on a busy machine: for what waits for ever without calling the core. */
const LIMIT_MS = 60_000;

/** What a check of the unchanged core reaches and takes. */
export interface Reach extends Bounds {
  readonly name: string;
  readonly ms: number;
  /** A bit for each block, in base 64. */
  readonly blocks: string;
}

/** Each `of` workers measures every `of`th check, beginning at `part`. */
export interface Share {
  readonly part: number;
  readonly of: number;
  readonly longestMs: number;
}

export type Verdict =
  | { readonly id: string; readonly is: 'noticed'; readonly by: string; readonly said: string }
  | { readonly id: string; readonly is: 'not noticed' | 'not reached' | 'not valid' }
  /** Its check fails without it as well, after it: another process is to try it. */
  | { readonly id: string; readonly is: 'unsure'; readonly by: string };

export class Trials {
  readonly #core = readWholeCore();
  readonly #mutants = new Map(mutantsOf(this.#core).map((mutant) => [mutant.id, mutant]));
  readonly #rewriter = new Rewriter(this.#core, mutableGlobalsOf(this.#core.bytes));
  readonly #original = new WebAssembly.Module(this.#rewriter.changed());
  readonly #checks = new Map<string, Check>();
  #optimized: Buffer | undefined;
  #reaches: { reach: Reach; marks: Uint8Array }[] = [];

  async load(): Promise<void> {
    fc.configureGlobal({ seed: SEED, endOnFailure: true });
    takeOver();
    this.#hand(this.#original);
    for (const file of filesOfChecks()) {
      const load = () => import(/* @vite-ignore */ join(projectRoot, file));
      for (const check of await checksOf(file, load)) this.#checks.set(check.name, check);
    }
  }

  /** Each check on the unchanged core, or one worker's share of them. */
  async reach({ part, of, longestMs }: Share): Promise<Reach[]> {
    const mutants = [...this.#mutants.values()];
    const marks = 1 + mutants.reduce((most, { mark }) => Math.max(most, mark), 0);
    const marked = new WebAssembly.Module(this.#rewriter.marked(mutants));
    const reaches: Reach[] = [];
    for (const check of [...this.#checks.values()].filter((_, at) => at % of === part)) {
      // Anew for each, so that an instance that a file of tests keeps has the marks of this check alone.
      this.#hand(marked);
      const begunMs = busyMs();
      boundBy(unbounded, marks, begunMs + SLOWER * longestMs);
      const said = await saidBy(check, LIMIT_MS);
      const ms = Math.round((busyMs() - begunMs) / SLOWER);
      if (ms >= longestMs) continue;
      if (said === undefined) reaches.push({ name: check.name, ms, ...packed(spent()) });
      else console.error(`left out, since it fails by itself here: ${check.name}: ${said}`);
    }
    return reaches;
  }

  /** Those that take no longer than this. */
  use(reaches: readonly Reach[], longestMs: number): void {
    this.#reaches = reaches
      .filter(({ ms }) => ms <= longestMs)
      .map((reach) => ({ reach, marks: Buffer.from(reach.blocks, 'base64') }));
  }

  async try(id: string): Promise<Verdict> {
    const mutant = this.#mutants.get(id)!;
    const bytes = this.#rewriter.changed(mutant);
    if (!WebAssembly.validate(bytes)) return { id, is: 'not valid' };
    const reaching = this.#reaches.filter(({ marks }) => reaches(marks, mutant));
    if (reaching.length === 0) return { id, is: 'not reached' };
    this.#hand(new WebAssembly.Module(bytes));
    for (const { reach } of reaching) {
      boundBy({ fuel: reach.fuel * 10 + 100_000, calls: reach.calls * 10 + 10_000 });
      const said = await saidBy(this.#checks.get(reach.name)!, LIMIT_MS);
      if (said !== undefined) return this.#confirm(id, reach.name, said);
    }
    return { id, is: 'not noticed' };
  }

  /** A mutant may have left something behind in a test's own variables. */
  async #confirm(id: string, by: string, said: string): Promise<Verdict> {
    this.#hand(this.#original);
    boundBy(unbounded);
    const saysSo = (await saidBy(this.#checks.get(by)!, LIMIT_MS)) !== undefined;
    return saysSo ? { id, is: 'unsure', by } : { id, is: 'noticed', by, said };
  }

  /** The compiler's own optimizer makes the same of it. */
  isEqual(id: string): boolean {
    this.#optimized ??= optimized(this.#rewriter.bare());
    return this.#optimized.equals(optimized(this.#rewriter.bare(this.#mutants.get(id)!)));
  }

  #hand(core: WebAssembly.Module): void {
    handIn(core);
    provideCore(core);
  }
}

const { Features } = binaryen;
/** What the compiler itself may use of WebAssembly. */
const features =
  Features.MutableGlobals |
  Features.SignExt |
  Features.NontrappingFPToInt |
  Features.BulkMemory |
  Features.BulkMemoryOpt;

function optimized(bytes: Uint8Array): Buffer {
  binaryen.setOptimizeLevel(2);
  binaryen.setShrinkLevel(1);
  const module = binaryen.readBinary(bytes);
  module.setFeatures(features);
  module.optimize();
  const emitted = module.emitBinary();
  module.dispose();
  return Buffer.from(emitted);
}

function mutableGlobalsOf(bytes: Uint8Array): number[] {
  const module = binaryen.readBinary(bytes);
  const mutable = Array.from({ length: module.getNumGlobals() }, (_, index) => index).filter(
    (index) => binaryen.getGlobalInfo(module.getGlobalByIndex(index)).mutable,
  );
  module.dispose();
  return mutable;
}

function packed({ marks, fuel, calls }: { marks: Uint8Array } & Bounds): Bounds & Pick<Reach, 'blocks'> {
  const bits = new Uint8Array((marks.length >> 3) + 1);
  for (const [block, mark] of marks.entries()) bits[block >> 3]! |= (mark === 0 ? 0 : 1) << (block & 7);
  return { fuel, calls, blocks: Buffer.from(bits).toString('base64') };
}

function reaches(marks: Uint8Array, { mark }: Mutant): boolean {
  return (marks[mark >> 3]! & (1 << (mark & 7))) !== 0;
}
