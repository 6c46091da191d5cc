/** The instructions of a module, as `wasm-objdump` tells them: where each lies, its bytes and its words. */
import { execFileSync } from 'node:child_process';
import { readUnsigned } from './wasm-bytes.js';

export interface Instruction {
  readonly offset: number;
  readonly bytes: Uint8Array;
  /** `i32.const`, and what it says behind that. */
  readonly name: string;
  readonly operands: string;
}

export interface FunctionBody {
  readonly name: string;
  /** What says how many locals there are. */
  readonly locals: Uint8Array;
  readonly instructions: readonly Instruction[];
}

export interface Signature {
  readonly parameters: number;
  readonly results: readonly string[];
}

const CODE_SECTION = 10;

function tell(wasm: string, ...flags: string[]): string {
  return execFileSync('wasm-objdump', [...flags, wasm], { encoding: 'utf8', maxBuffer: 2 ** 28 });
}

/** In the order of the module's code. */
export function functionsOf(wasm: string, bytes: Uint8Array): FunctionBody[] {
  const told = tell(wasm, '-d')
    .split(/^[0-9a-f]{6} func\[\d+\]/m)
    .slice(1);
  return bodiesOf(bytes).map(({ start, end }, index) => {
    const [heading = '', ...lines] = told[index]!.split('\n');
    const found = lines.flatMap((line) => {
      const [, offset, name, operands] = /^ ([0-9a-f]{6}): [^|]*\| *([a-z][\w.]*)(.*)$/.exec(line) ?? [];
      if (offset === undefined || name === undefined || /^local\[/.test(`${name}${operands}`)) return [];
      return [{ offset: Number.parseInt(offset, 16), name, operands: operands?.trim() ?? '' }];
    });
    const instructions = found.map((one, at) => ({
      ...one,
      bytes: bytes.subarray(one.offset, found[at + 1]?.offset ?? end),
    }));
    const name = /<(.*)>/.exec(heading)?.[1] ?? '';
    return { name, locals: bytes.subarray(start, found[0]?.offset ?? end), instructions };
  });
}

function bodiesOf(bytes: Uint8Array): { start: number; end: number }[] {
  let at = 8;
  while (bytes[at] !== CODE_SECTION) {
    const size = readUnsigned(bytes, at + 1);
    at = size.next + size.value;
  }
  const size = readUnsigned(bytes, at + 1);
  const count = readUnsigned(bytes, size.next);
  let next = count.next;
  return Array.from({ length: count.value }, () => {
    const length = readUnsigned(bytes, next);
    next = length.next + length.value;
    return { start: length.next, end: next };
  });
}

export function signaturesOf(wasm: string): Signature[] {
  const told = tell(wasm, '-x');
  const types = [...told.matchAll(/^ - type\[\d+\] \(([^)]*)\) -> (.*)$/gm)].map(
    ([, from = '', to = '']) => ({
      parameters: from === '' ? 0 : from.split(',').length,
      results: to === 'nil' ? [] : to.replace(/[()]/g, '').split(', '),
    }),
  );
  return [...told.matchAll(/^ - func\[\d+\] sig=(\d+)/gm)].map(([, type]) => types[Number(type)]!);
}
