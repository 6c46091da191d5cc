import { fieldsOf } from '../fields.js';
import { messageTypes } from '../schema.js';
import { namedChoices, type WireFact } from '../wire-types.js';
import { layOut } from './layout.js';

/** How `firmware/core/protocol/record-codec.ts` tells the fields apart; its `FieldKind` is written from this. */
export const fieldKinds = [
  ...['Unsigned8', 'Unsigned16', 'Unsigned32', 'Signed8', 'Signed16', 'Signed32', 'Signed64'],
  ...['Flag', 'Choice', 'Hex8', 'Hex16', 'Text', 'Name'],
] as const;
type FieldKind = (typeof fieldKinds)[number];

const integerKinds: Readonly<Record<string, FieldKind>> = {
  u8: 'Unsigned8',
  u16: 'Unsigned16',
  u32: 'Unsigned32',
  i8: 'Signed8',
  i16: 'Signed16',
  i32: 'Signed32',
  i64: 'Signed64',
};

/** The schema as bytes: four a field (kind, offset, and two that the kind explains), and where each message's begin. */
export interface FieldTable {
  readonly fields: readonly number[];
  /** For each message the number of its first field, and one more for the end. */
  readonly firstFields: readonly number[];
  /** Least and most of each range that integers have, pair by pair. */
  readonly ranges: readonly bigint[];
  /** All words of all choices, each after its length; and for each choice where it begins and how many it has. */
  readonly words: readonly number[];
  readonly choices: readonly { readonly name: string; readonly at: number; readonly count: number }[];
}

export function fieldTable(): FieldTable {
  const { words, choices } = packChoices();
  const ranges: bigint[] = [];
  const fields: number[] = [];
  const firstFields: number[] = [];
  for (const type of messageTypes) {
    firstFields.push(fields.length / 4);
    const described = fieldsOf(type);
    const slotOf = new Map(layOut(described).slots.map((slot) => [slot.name, slot]));
    for (const { name, fact } of described) {
      const { stored, offset } = slotOf.get(name)!;
      const [kind, a, b] = describe(fact, stored, ranges, choices);
      fields.push(fieldKinds.indexOf(kind), offset, a, b);
    }
  }
  firstFields.push(fields.length / 4);
  const tooLarge = fields.find((byte) => byte > 0xff);
  if (tooLarge !== undefined) throw new Error(`the field table needs a byte for ${tooLarge}`);
  return { fields, firstFields, ranges, words, choices };
}

function describe(
  fact: WireFact,
  stored: string,
  ranges: bigint[],
  choices: FieldTable['choices'],
): [FieldKind, number, number] {
  switch (fact.kind) {
    case 'integer':
      return [integerKinds[stored]!, rangeNumber(ranges, BigInt(fact.min), BigInt(fact.max)), 0];
    case 'flag':
      return ['Flag', 0, 0];
    case 'choice':
      return ['Choice', choices.findIndex(({ name }) => name === fact.name), 0];
    case 'hex':
      return [fact.digits === 8 ? 'Hex8' : 'Hex16', 0, 0];
    case 'text':
      return [fact.form === 'name' ? 'Name' : 'Text', fact.maxChars, fact.maxWireBytes];
  }
}

function rangeNumber(ranges: bigint[], least: bigint, most: bigint): number {
  for (let at = 0; at < ranges.length; at += 2)
    if (ranges[at] === least && ranges[at + 1] === most) return at / 2;
  ranges.push(least, most);
  return ranges.length / 2 - 1;
}

function packChoices(): Pick<FieldTable, 'words' | 'choices'> {
  const words: number[] = [];
  const choices: { name: string; at: number; count: number }[] = [];
  for (const [name, options] of [...namedChoices, ['MessageType', messageTypes] as const]) {
    choices.push({ name, at: words.length, count: options.length });
    for (const option of options) words.push(option.length, ...Buffer.from(option));
  }
  return { words, choices };
}
