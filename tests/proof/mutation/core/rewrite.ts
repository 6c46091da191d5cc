/** Puts a module together anew: with other instructions, a bound on its loops, and marks of what was reached. */
import type { FunctionBody } from './instructions.js';
import type { Mutant } from './mutants.js';
import { moduleOf, readUnsigned, sectionsOf, unsigned } from './wasm-bytes.js';
import { grouped, type Watch, Watcher, watchedAt, withSixLocals } from './watches.js';
import type { WholeCore } from './whole-core.js';

const EXPORTS = 7;
const CODE = 10;
const CUSTOM = 0;
/** Where the marks begin: the core itself has the first page. */
export const MARKS_AT = 0x1_0000;
/** Turns of loops that are left. */
export const FUEL_AT = 0x1_fff0;

/** Bytes in place of those of one instruction. */
export interface Change {
  readonly function: number;
  readonly instruction: number;
  readonly bytes: readonly number[];
}

interface Writing {
  readonly change?: Change | undefined;
  readonly marks?: readonly number[];
  readonly locals?: readonly number[];
  readonly watches?: ReadonlyMap<number, Watch>;
  readonly bound?: boolean;
}

export class Rewriter {
  readonly #core: WholeCore;
  readonly #fuel = burnFuel();
  readonly #exports: Uint8Array;
  readonly #bodies: Uint8Array[];

  constructor(core: WholeCore, mutableGlobals: readonly number[]) {
    this.#core = core;
    const exports = sectionsOf(core.bytes).find(({ kind }) => kind === EXPORTS)!.content;
    this.#exports = withGlobals(exports, mutableGlobals);
    this.#bodies = core.functions.map((body) => this.#write(body));
  }

  /** The core with one change, or with none. */
  changed(change?: Change): Uint8Array<ArrayBuffer> {
    if (change === undefined) return this.#put(this.#bodies);
    const bodies = [...this.#bodies];
    bodies[change.function] = this.#write(this.#core.functions[change.function]!, { change });
    return this.#put(bodies);
  }

  /** Without a bound on its loops. */
  bare(change?: Change): Uint8Array {
    return this.#put(
      this.#core.functions.map((body, index) =>
        this.#write(body, { change: index === change?.function ? change : undefined, bound: false }),
      ),
    );
  }

  /** The core that leaves a mark for each block that was entered, and for each change that would have made a difference. */
  marked(mutants: readonly Mutant[]): Uint8Array<ArrayBuffer> {
    const marks = blocksOf(this.#core.functions);
    const { functions, signatures } = this.#core;
    const imports = signatures.length - functions.length;
    const byFunction = grouped(mutants, (mutant) => mutant.function);
    return this.#put(
      functions.map((body, index) => {
        const { locals, first } = withSixLocals(body, signatures[imports + index]!);
        const watches = watchesOf(body, byFunction.get(index) ?? [], new Watcher(first, leaveMark));
        return this.#write(body, { marks: marks[index]!, locals, watches });
      }),
    );
  }

  /** The core that leaves a mark for each block that was entered, however long it runs. */
  withBlocksMarked(): Uint8Array<ArrayBuffer> {
    const marks = blocksOf(this.#core.functions);
    return this.#put(
      this.#core.functions.map((body, index) => this.#write(body, { marks: marks[index]!, bound: false })),
    );
  }

  #write(body: FunctionBody, { change, marks, locals, watches, bound = true }: Writing = {}): Uint8Array {
    const parts: Uint8Array[] = [locals === undefined ? body.locals : Uint8Array.from(locals)];
    for (const [at, { name, bytes }] of body.instructions.entries()) {
      if (marks !== undefined && (at === 0 || marks[at] !== marks[at - 1]))
        parts.push(Uint8Array.from(leaveMark(marks[at]!)));
      const watch = watches?.get(at);
      parts.push(Uint8Array.from(watch?.before ?? []));
      parts.push(at === change?.instruction ? Uint8Array.from(change.bytes) : bytes);
      parts.push(Uint8Array.from(watch?.after ?? []));
      if (name === 'loop' && bound) parts.push(Uint8Array.from(this.#fuel));
    }
    const written = Buffer.concat(parts);
    return Buffer.concat([Uint8Array.from(unsigned(written.length)), written]);
  }

  #put(bodies: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
    const code = Buffer.concat([Uint8Array.from(unsigned(bodies.length)), ...bodies]);
    return moduleOf(
      sectionsOf(this.#core.bytes)
        .filter(({ kind }) => kind !== CUSTOM)
        .map((section) => {
          if (section.kind === EXPORTS) return { kind: EXPORTS, content: this.#exports };
          return section.kind === CODE ? { kind: CODE, content: code } : section;
        }),
    );
  }
}

/** For each instruction of each function the number of its block: what is entered only as a whole. */
export function blocksOf(functions: readonly FunctionBody[]): number[][] {
  let block = -1;
  return functions.map(({ instructions }) => {
    let begins = true;
    return instructions.map(({ name }) => {
      if (begins) block++;
      begins = /^(if|else|loop|end|br_if)$/.test(name);
      return block;
    });
  });
}

function watchesOf(
  { instructions }: FunctionBody,
  mutants: readonly Mutant[],
  watcher: Watcher,
): Map<number, Watch> {
  const watched = grouped(mutants, (mutant) => watchedAt(instructions, mutant.instruction, mutant));
  return new Map(
    [...watched].flatMap(([at, those]) => {
      if (at === undefined) return [];
      const own = those.filter(({ instruction }) => instruction === at);
      const constants = those.filter(({ instruction }) => instruction !== at);
      return [[at, watcher.watch(instructions[at]!, own, constants)] as const];
    }),
  );
}

function leaveMark(block: number): number[] {
  // i32.const 0; i32.const 1; i32.store8
  return [0x41, 0, 0x41, 1, 0x3a, 0, ...unsigned(MARKS_AT + block)];
}

/** Counts down, and traps below zero. */
function burnFuel(): number[] {
  const at = [2, ...unsigned(FUEL_AT)];
  const load = [0x41, 0, 0x28, ...at];
  const less = [0x41, 0, ...load, 0x41, 1, 0x6b, 0x36, ...at];
  return [...less, ...load, 0x41, 0, 0x48, 0x04, 0x40, 0x00, 0x0b];
}

const GLOBAL = 3;

/** As the exploration asks for them: `state:` and the number. */
function withGlobals(section: Uint8Array, globals: readonly number[]): Uint8Array {
  const count = readUnsigned(section, 0);
  const added = globals.flatMap((index) => {
    const name = Buffer.from(`state:${index}`);
    return [...unsigned(name.length), ...name, GLOBAL, ...unsigned(index)];
  });
  return Buffer.concat([
    Uint8Array.from(unsigned(count.value + globals.length)),
    section.subarray(count.next),
    Uint8Array.from(added),
  ]);
}
