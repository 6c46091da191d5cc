import { engine } from '../../core/webassembly.js';

/** Light was asked for while bytes from the serial line were handled: the board layer stops such a core. */
export class LampByLine extends Error {
  override readonly name = 'LampByLine';
}

/** So it does with one that would make way for new firmware then. */
export class WayByLine extends Error {
  override readonly name = 'WayByLine';
}

/** The board layer's numbers for them, told to the core as the `detail` of a start by trap. */
const LAMP_BY_LINE = 18;
const WAY_BY_LINE = 21;

/** Words of the engine for each wasm trap, and its number in wasm_rt_trap_t of the runtime on the chip. */
const trapNumbers: readonly [RegExp, number][] = [
  [/out of bounds/, 1],
  [/unrepresentable|overflow/, 2],
  [/by zero/, 3],
  [/unreachable/, 5],
  [/indirect|signature|table/, 6],
];
const OTHER_TRAP = 7;
const STACK_EXHAUSTED = 8;

/** The number by which the next start tells of this failure, or undefined if it is none of the core's. */
export function trapDetail(error: unknown): number | undefined {
  if (error instanceof LampByLine) return LAMP_BY_LINE;
  if (error instanceof WayByLine) return WAY_BY_LINE;
  if (error instanceof RangeError && /call stack/.test(error.message)) return STACK_EXHAUSTED;
  if (!(error instanceof engine.RuntimeError)) return undefined;
  return trapNumbers.find(([words]) => words.test(error.message))?.[1] ?? OTHER_TRAP;
}
