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

/** The schema as bytes: three a field (kind, offset, and one that the kind explains), and where each message's begin. */
export interface FieldTable {
  readonly fields: readonly number[];
  /** For each message the number of its first field, and one more for the end. */
  readonly firstFields: readonly number[];
  /** Least and most of each range that integers have, pair by pair: of 32 bits, and wider. */
  readonly ranges: readonly bigint[];
  readonly wideRanges: readonly bigint[];
  /** For each kind of text the most characters and the most bytes on the line, pair by pair. */
  readonly textBounds: readonly number[];
  /** All words of all choices, each after its length; and for each choice where it begins and how many it has. */
  readonly words: readonly number[];
  readonly choices: readonly { readonly name: string; readonly at: number; readonly count: number }[];
}

/** Of one field in `fields`; the core's `record-codec.ts` reads them so. */
const FIELD_BYTES = 3;

interface Bounds {
  readonly ranges: bigint[];
  readonly wideRanges: bigint[];
  readonly textBounds: number[];
}

export function fieldTable(): FieldTable {
  const { words, choices } = packChoices();
  const bounds: Bounds = { ranges: [], wideRanges: [], textBounds: [] };
  const fields: number[] = [];
  const firstFields: number[] = [];
  for (const type of messageTypes) {
    firstFields.push(fields.length / FIELD_BYTES);
    const described = fieldsOf(type);
    const slotOf = new Map(layOut(described).slots.map((slot) => [slot.name, slot]));
    for (const { name, fact } of described) {
      const { stored, offset } = slotOf.get(name)!;
      const [kind, detail] = describe(fact, stored, bounds, choices);
      fields.push(fieldKinds.indexOf(kind), offset, detail);
    }
  }
  firstFields.push(fields.length / FIELD_BYTES);
  const tooLarge = fields.find((byte) => byte > 0xff);
  if (tooLarge !== undefined) throw new Error(`the field table needs a byte for ${tooLarge}`);
  return { fields, firstFields, ...bounds, words, choices };
}

function describe(
  fact: WireFact,
  stored: string,
  { ranges, wideRanges, textBounds }: Bounds,
  choices: FieldTable['choices'],
): [FieldKind, number] {
  switch (fact.kind) {
    case 'integer':
      return [
        integerKinds[stored]!,
        pairNumber(stored === 'i64' ? wideRanges : ranges, BigInt(fact.min), BigInt(fact.max)),
      ];
    case 'flag':
      return ['Flag', 0];
    case 'choice':
      return ['Choice', choices.findIndex(({ name }) => name === fact.name)];
    case 'hex':
      return [fact.digits === 8 ? 'Hex8' : 'Hex16', 0];
    case 'text':
      return [
        fact.form === 'name' ? 'Name' : 'Text',
        pairNumber(textBounds, fact.maxChars, fact.maxWireBytes),
      ];
  }
}

/** The place of a pair in a list of pairs, put there if it is not in it yet. */
function pairNumber<Value>(pairs: Value[], one: Value, other: Value): number {
  for (let at = 0; at < pairs.length; at += 2)
    if (pairs[at] === one && pairs[at + 1] === other) return at / 2;
  pairs.push(one, other);
  return pairs.length / 2 - 1;
}

/** The choices that stand in some message: words of others are never on the line. */
function spokenChoices(): ReadonlySet<string> {
  const facts = messageTypes.flatMap((type) => fieldsOf(type).map(({ fact }) => fact));
  return new Set(facts.flatMap((fact) => (fact.kind === 'choice' ? [fact.name] : [])));
}

function packChoices(): Pick<FieldTable, 'words' | 'choices'> {
  const words: number[] = [];
  const choices: { name: string; at: number; count: number }[] = [];
  const spoken = [...namedChoices].filter(([name]) => spokenChoices().has(name));
  for (const [name, options] of [...spoken, ['MessageType', messageTypes] as const]) {
    choices.push({ name, at: words.length, count: options.length });
    for (const option of options) words.push(option.length, ...Buffer.from(option));
  }
  return { words, choices };
}
