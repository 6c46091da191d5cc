import { fieldsOf } from '../fields.js';
import type { MessageType } from '../schema.js';
import type { WireFact } from '../wire-types.js';

/** How one field lies in the core's memory. */
export interface Slot {
  readonly name: string;
  readonly fact: WireFact;
  /** AssemblyScript's type of the stored number, or 'text' for a length byte followed by UTF-8. */
  readonly stored: string;
  readonly bytes: number;
  readonly offset: number;
}

/**
 * Lays fields out as an unmanaged class does (numbers, widest first, so that nothing is padded), then texts.
 * The whole is rounded up to 8 bytes, so that records stand one after another in an array.
 */
export function layOut(fields: readonly { name: string; fact: WireFact }[]): {
  slots: Slot[];
  bytes: number;
} {
  const sized = fields.map((field) => ({ ...field, ...storageOf(field.fact) }));
  const numbers = sized.filter(({ stored }) => stored !== 'text').sort((a, b) => b.bytes - a.bytes);
  const texts = sized.filter(({ stored }) => stored === 'text');
  let offset = 0;
  const slots = [...numbers, ...texts].map((field) => {
    const slot = { ...field, offset };
    offset += field.bytes;
    return slot;
  });
  return { slots, bytes: Math.ceil(offset / 8) * 8 };
}

/** The record of an entry's end, which has these fields of its message, and where the last of them ends. */
export function endedSlots(type: MessageType, names: readonly string[]): { slots: Slot[]; ends: number } {
  const { slots } = layOut(fieldsOf(type).filter(({ name }) => names.includes(name)));
  return { slots, ends: Math.max(...slots.map(({ offset, bytes }) => offset + bytes)) };
}

function storageOf(fact: WireFact): { stored: string; bytes: number } {
  switch (fact.kind) {
    case 'integer':
      return integerStorage(fact.min, fact.max);
    case 'flag':
      return { stored: 'bool', bytes: 1 };
    case 'choice':
      return { stored: 'u8', bytes: 1 };
    case 'hex':
      return fact.digits === 8 ? { stored: 'u32', bytes: 4 } : { stored: 'u64', bytes: 8 };
    case 'text':
      return { stored: 'text', bytes: 1 + textCapacity(fact.maxChars, fact.maxWireBytes) };
  }
}

function integerStorage(min: number, max: number): { stored: string; bytes: number } {
  for (const bits of [8, 16, 32]) {
    if (min >= 0 && max < 2 ** bits) return { stored: `u${bits}`, bytes: bits / 8 };
    if (min >= -(2 ** (bits - 1)) && max < 2 ** (bits - 1)) return { stored: `i${bits}`, bytes: bits / 8 };
  }
  return { stored: 'i64', bytes: 8 };
}

/**
 * The most UTF-8 bytes that a text within both bounds can take: on the line an ASCII character costs 1 byte,
 * another of the basic plane 6 (3 in UTF-8 at most), one beyond it 12 (4 in UTF-8).
 */
export function textCapacity(maxChars: number, maxWireBytes: number): number {
  let most = 0;
  for (let astral = 0; astral <= maxChars && astral * 12 <= maxWireBytes; astral++) {
    const wire = maxWireBytes - astral * 12;
    for (let basic = 0; basic <= maxChars - astral && basic * 6 <= wire; basic++) {
      const plain = Math.min(maxChars - astral - basic, wire - basic * 6);
      most = Math.max(most, astral * 4 + basic * 3 + plain);
    }
  }
  return most;
}

/** The longest value a field can have on the line, quotes included. */
export function widestOnWire(fact: WireFact): number {
  switch (fact.kind) {
    case 'integer':
      return Math.max(String(fact.min).length, String(fact.max).length);
    case 'flag':
      return 'false'.length;
    case 'choice':
      return Math.max(...fact.options.map((option) => option.length)) + 2;
    case 'hex':
      return fact.digits + 2;
    case 'text':
      return fact.maxWireBytes + 2;
  }
}
