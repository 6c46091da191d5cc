/** What is done to one instruction: each a mistake that a person makes. */
import type { Instruction, Signature } from './instructions.js';
import { signed } from './wasm-bytes.js';

export interface Mistake {
  readonly words: string;
  readonly bytes: readonly number[];
}

/** Opcodes by name. */
const opcodes: Readonly<Record<string, number>> = Object.fromEntries(
  (
    [
      [0x45, 'i32.eqz eq ne lt_s lt_u gt_s gt_u le_s le_u ge_s ge_u'],
      [0x50, 'i64.eqz eq ne lt_s lt_u gt_s gt_u le_s le_u ge_s ge_u'],
      [0x61, 'f64.eq ne lt gt le ge'],
      [0x6a, 'i32.add sub mul div_s div_u rem_s rem_u and or xor shl shr_s shr_u'],
      [0x7c, 'i64.add sub mul div_s div_u rem_s rem_u and or xor shl shr_s shr_u'],
      [0xa0, 'f64.add sub mul div'],
      [0x2c, 'i32.load8_s load8_u load16_s load16_u'],
      [0x34, 'i64.load32_s load32_u'],
      [0xac, 'i64.extend_i32_s extend_i32_u'],
    ] as const
  ).flatMap(([first, names]) => {
    const type = names.slice(0, 4);
    return names
      .slice(4)
      .split(' ')
      .map((name, index) => [type + name, first + index] as const);
  }),
);

/** One in place of the other: by one, the other way, the other sign. */
const inPlaceOf: Readonly<Record<string, readonly string[]>> = {
  lt_s: ['le_s', 'lt_u'],
  lt_u: ['le_u'],
  gt_s: ['ge_s', 'gt_u'],
  gt_u: ['ge_u'],
  le_s: ['lt_s'],
  le_u: ['lt_u'],
  ge_s: ['gt_s'],
  ge_u: ['gt_u'],
  lt: ['le'],
  gt: ['ge'],
  le: ['lt'],
  ge: ['gt'],
  eq: ['ne'],
  ne: ['eq'],
  add: ['sub'],
  sub: ['add'],
  mul: ['add'],
  div_s: ['mul', 'div_u'],
  div_u: ['mul'],
  rem_s: ['div_s'],
  rem_u: ['div_u'],
  div: ['mul'],
  and: ['or'],
  or: ['and'],
  xor: ['or'],
  shl: ['shr_u'],
  shr_s: ['shl', 'shr_u'],
  shr_u: ['shl'],
  load8_s: ['load8_u'],
  load8_u: ['load8_s'],
  load16_s: ['load16_u'],
  load16_u: ['load16_s'],
  load32_s: ['load32_u'],
  load32_u: ['load32_s'],
  extend_i32_s: ['extend_i32_u'],
  extend_i32_u: ['extend_i32_s'],
};

const DROP = 0x1a;
const I32_EQZ = 0x45;
const none: Readonly<Record<string, readonly number[]>> = {
  i32: [0x41, 0],
  i64: [0x42, 0],
  f64: [0x44, 0, 0, 0, 0, 0, 0, 0, 0],
  f32: [0x43, 0, 0, 0, 0],
};

export function mistakesIn(instruction: Instruction, signatures: readonly Signature[]): Mistake[] {
  const { name, operands, bytes } = instruction;
  const [type = '', operation = ''] = name.split('.');
  const swapped = (inPlaceOf[operation] ?? []).flatMap((other) => {
    const opcode = opcodes[`${type}.${other}`];
    return opcode === undefined
      ? []
      : [{ words: `${name} as ${other}`, bytes: [opcode, ...bytes.subarray(1)] }];
  });
  if (swapped.length > 0) return swapped;
  if (/^i(32|64)\.const$/.test(name)) return otherNumbers(name, operands, bytes[0]!);
  if (name === 'f64.const') return otherFractions(bytes);
  if (/\.store/.test(name)) return [{ words: `${name} left out`, bytes: [DROP, DROP] }];
  return others(instruction, signatures);
}

function otherNumbers(name: string, operands: string, opcode: number): Mistake[] {
  const bits = name === 'i32.const' ? 32 : 64;
  const value = BigInt.asIntN(bits, BigInt(operands.split(' ')[0]!));
  return [value + 1n, value - 1n].map((other) => ({
    words: `${value} as ${BigInt.asIntN(bits, other)}`,
    bytes: [opcode, ...signed(BigInt.asIntN(bits, other))],
  }));
}

function otherFractions(bytes: Uint8Array): Mistake[] {
  const value = new DataView(bytes.buffer, bytes.byteOffset).getFloat64(1, true);
  return (value === 0 ? [1] : [-value, value * 1.001]).map((other) => ({
    words: `${value} as ${other}`,
    bytes: [bytes[0]!, ...new Uint8Array(Float64Array.of(other).buffer)],
  }));
}

function others({ name, operands, bytes }: Instruction, signatures: readonly Signature[]): Mistake[] {
  switch (name) {
    case 'i32.eqz':
      return [{ words: 'i32.eqz left out', bytes: [...none.i32!, 0x47] }];
    case 'i64.eqz':
      return [{ words: 'i64.eqz left out', bytes: [...none.i64!, 0x52] }];
    case 'if':
      return [{ words: 'if the other way', bytes: [I32_EQZ, ...bytes] }];
    case 'select':
      return [{ words: 'select the other way', bytes: [I32_EQZ, ...bytes] }];
    case 'br_if':
      return [
        { words: 'br_if the other way', bytes: [I32_EQZ, ...bytes] },
        { words: 'br_if left out', bytes: [DROP] },
      ];
    case 'br':
    case 'return':
      return [{ words: `${name} left out`, bytes: [] }];
    case 'global.set':
      return [{ words: `${name} left out`, bytes: [DROP] }];
    case 'memory.copy':
    case 'memory.fill':
      return [{ words: `${name} left out`, bytes: [DROP, DROP, DROP] }];
    case 'call':
      return [callLeftOut(operands, signatures)];
    default:
      return [];
  }
}

function callLeftOut(operands: string, signatures: readonly Signature[]): Mistake {
  const [callee = '', name = ''] = operands.split(' ');
  const { parameters, results } = signatures[Number(callee)]!;
  const bytes = [...new Array<number>(parameters).fill(DROP), ...results.flatMap((type) => none[type]!)];
  return { words: `call ${name.replace(/[<>]/g, '').split('/').at(-1)} left out`, bytes };
}
