/**
 * Where a test meets a change only if it makes a difference there at least once: a comparison that comes out otherwise, a
 * store that is left out and would have changed something. What was never otherwise cannot be noticed, and is not tried.
 */
import type { FunctionBody, Instruction, Signature } from './instructions.js';
import type { Mutant } from './mutants.js';
import { readUnsigned, signed, unsigned } from './wasm-bytes.js';

/** Instructions put before and behind one. */
export interface Watch {
  readonly before: number[];
  readonly after: number[];
}

type Type = 'i32' | 'i64' | 'f64';
const types: Readonly<Record<Type, { byte: number; ne: number; place: number }>> = {
  i32: { byte: 0x7f, ne: 0x47, place: 0 },
  i64: { byte: 0x7e, ne: 0x52, place: 2 },
  f64: { byte: 0x7c, ne: 0x62, place: 4 },
};
const binary =
  /^(i32|i64|f64)\.(lt|gt|le|ge|eq|ne|add|sub|mul|div|rem|and|or|xor|shl|shr|rotl|rotr|min|max)(_[su])?$/;
const comparison = /\.(lt|gt|le|ge|eq|ne)(_[su])?$/;
/** For what is stored: the load of as many bits, and these bits. */
const loads: Readonly<Record<string, readonly [load: number, bits: bigint]>> = {
  'i32.store': [0x28, 0n],
  'i64.store': [0x29, 0n],
  'f64.store': [0x2b, 0n],
  'i32.store8': [0x2d, 0xffn],
  'i32.store16': [0x2f, 0xffffn],
  'i64.store8': [0x31, 0xffn],
  'i64.store16': [0x33, 0xffffn],
  'i64.store32': [0x35, 0xffff_ffffn],
};

const typeOf = (name: string) => name.slice(0, 3) as Type;

/** What leaves a mark for each of the changes of instruction `at` that can be watched, with six more locals from `local` on. */
export class Watcher {
  readonly #get: (type: Type, which: 0 | 1) => number[];
  readonly #set: (type: Type, which: 0 | 1) => number[];
  readonly #marked: (mutant: Mutant) => number[];

  constructor(local: number, leaveMark: (mark: number) => number[]) {
    const place = (type: Type, which: number) => unsigned(local + types[type].place + which);
    this.#get = (type, which) => [0x20, ...place(type, which)];
    this.#set = (type, which) => [0x21, ...place(type, which)];
    // if, the mark, end
    this.#marked = ({ mark }) => [0x04, 0x40, ...leaveMark(mark), 0x0b];
  }

  watch({ name, bytes }: Instruction, mutants: readonly Mutant[], constants: readonly Mutant[]): Watch {
    if (binary.test(name)) return this.#operation(name, bytes[0]!, mutants, constants);
    if (name in loads) return this.#store(name, bytes, mutants[0]!);
    if (name === 'br_if') return this.#branch(mutants[0]!);
    return this.#sign(name, mutants[0]!);
  }

  /** The operation as it is and as it would be, side by side. */
  #operation(name: string, opcode: number, mutants: readonly Mutant[], constants: readonly Mutant[]): Watch {
    const type = typeOf(name);
    const [x, y] = [this.#get(type, 0), this.#get(type, 1)];
    const { ne } = types[comparison.test(name) ? 'i32' : type];
    const asItIs = [...x, ...y, opcode];
    const differs = (mutant: Mutant, other: readonly number[]) => [
      ...asItIs,
      ...other,
      ne,
      ...this.#marked(mutant),
    ];
    const marks = [
      ...mutants.flatMap((mutant) => differs(mutant, [...x, ...y, ...mutant.bytes])),
      ...constants.flatMap((mutant) => differs(mutant, [...x, ...mutant.bytes, opcode])),
    ];
    return { before: [...this.#set(type, 1), ...this.#set(type, 0), ...marks, ...x, ...y], after: [] };
  }

  /** Whether there is something else in that place of the memory. */
  #store(name: string, bytes: Uint8Array, mutant: Mutant): Watch {
    const type = typeOf(name);
    const [load, bits] = loads[name]!;
    const [constant, and] = type === 'i32' ? [0x41, 0x71] : [0x42, 0x83];
    const part = bits === 0n ? [] : [constant, ...signed(bits), and];
    const [address, value] = [this.#get('i32', 0), this.#get(type, 1)];
    const was = [...address, load, ...bytes.subarray(1)];
    const mark = [...was, ...value, ...part, types[type].ne, ...this.#marked(mutant)];
    return {
      before: [...this.#set(type, 1), ...this.#set('i32', 0), ...mark, ...address, ...value],
      after: [],
    };
  }

  /** The other way it always makes a difference; left out only where it is gone. */
  #branch(mutant: Mutant): Watch {
    const condition = this.#get('i32', 0);
    return {
      before: [...this.#set('i32', 0), ...condition, ...this.#marked(mutant), ...condition],
      after: [],
    };
  }

  /** Whether the highest bit is set of what was loaded, or of what is extended. */
  #sign(name: string, mutant: Mutant): Watch {
    if (name.includes('extend')) {
      const value = this.#get('i32', 0);
      const isNegative = [...value, 0x41, 0, 0x48];
      return {
        before: [...this.#set('i32', 0), ...isNegative, ...this.#marked(mutant), ...value],
        after: [],
      };
    }
    const type = typeOf(name);
    const value = this.#get(type, 0);
    const bits = Number(/load(\d+)/.exec(name)![1]);
    const [constant, and, zero] = type === 'i32' ? [0x41, 0x71, 0x41] : [0x42, 0x83, 0x42];
    const top = [...value, constant, ...signed(1n << BigInt(bits - 1)), and, zero, 0, types[type].ne];
    return { before: [], after: [...this.#set(type, 0), ...top, ...this.#marked(mutant), ...value] };
  }
}

const isWatchedBranch = ({ words }: Pick<Mutant, 'words'>) => words === 'br_if left out';

/** Where the change of instruction `at` is watched: at itself, at the operation that takes the number, or nowhere. */
export function watchedAt(
  instructions: readonly Instruction[],
  at: number,
  mistake: Pick<Mutant, 'words'>,
): number | undefined {
  const { name } = instructions[at]!;
  if (/\.const$/.test(name)) {
    const next = instructions[at + 1]?.name ?? '';
    const isTaken = binary.test(next) && !/\.(div|rem)/.test(next) && typeOf(next) === typeOf(name);
    return isTaken ? at + 1 : undefined;
  }
  const isWatched = binary.test(name) || name in loads || /\.(load(8|16|32)|extend_i32)_[su]$/.test(name);
  return isWatched || isWatchedBranch(mistake) ? at : undefined;
}

/** What says how many locals there are, with six more: two of each type; and the number of the first. */
export function withSixLocals(
  body: FunctionBody,
  { parameters }: Signature,
): { locals: number[]; first: number } {
  const groups = readUnsigned(body.locals, 0);
  let first = parameters;
  for (let left = groups.value, at = groups.next; left > 0; left--) {
    const count = readUnsigned(body.locals, at);
    first += count.value;
    at = count.next + 1;
  }
  const added = Object.values(types).flatMap(({ byte }) => [2, byte]);
  return { locals: [...unsigned(groups.value + 3), ...body.locals.subarray(groups.next), ...added], first };
}

export function grouped<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return groups;
}
