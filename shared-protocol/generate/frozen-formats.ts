import { documents, endedParts } from '../documents.js';
import { fieldsIn } from '../fields.js';
import { limits } from '../limits.js';
import { messages, type Setting, settings } from '../schema.js';
import { namedChoices, type WireFact } from '../wire-types.js';
import { layOut } from './layout.js';

/** What the check needs of a schema; the real one, or one with a mistake in it. */
export interface SchemaToHold {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly choices: ReadonlyMap<string, readonly string[]>;
  readonly messages: Readonly<Record<string, MessageToHold>>;
  readonly documents: Readonly<
    Record<
      string,
      { readonly number: number; readonly parts: readonly string[]; readonly behind?: readonly string[] }
    >
  >;
}

interface MessageToHold {
  readonly frozen: boolean;
  readonly entryKind: number;
  readonly named: Readonly<Record<number, string>>;
  readonly fields: Parameters<typeof fieldsIn>[1];
}

export const schemaToHold: SchemaToHold = { settings, choices: namedChoices, messages, documents };

/** Every format that outlives a version: by path ('choice Job/strip') what must stay so. */
export type Formats = Readonly<Record<string, string | number>>;

/** All that the schema says today about what lies on flashes and what every version must read. */
export function describeFormats(schema: SchemaToHold = schemaToHold): Formats {
  return Object.fromEntries([
    ...(['storageBytes', 'sectorBytes', 'pageBytes'] as const).map((name) => [
      `storage/${name}`,
      limits[name],
    ]),
    ...Object.entries(schema.settings).flatMap(([name, setting]) => describeSetting(name, setting)),
    ...[...schema.choices].flatMap(([name, words]) =>
      words.map((word, number) => [`choice ${name}/${word}`, number]),
    ),
    ...Object.entries(schema.documents).flatMap(([name, { number, parts, behind = [] }]) => [
      [`document/${name}`, number],
      ...parts.map((part, at) => [`document ${name}/part ${at + 1}`, part]),
      ...behind.map((part, at) => [`document ${name} behind/part ${at + 1}`, part]),
    ]),
    // A recipe has one of each, so that its passes begin behind them.
    ['document recipe/texts', schema.choices.get('RecipeText')!.length],
    ...Object.entries(schema.messages).flatMap(([type, message]) =>
      [type, ...Object.values(message.named)].flatMap((name) => describeMessage(name, message)),
    ),
  ]);
}

function describeSetting(name: string, { number, min, max, values }: Setting): [string, number][] {
  return [
    [`setting/${name}`, number],
    [`setting ${name}/least`, min],
    [`setting ${name}/most`, max],
    ...(values ?? []).map((value): [string, number] => [`setting ${name}/value ${value}`, value]),
  ];
}

function describeMessage(type: string, message: MessageToHold): [string, string | number][] {
  if (!message.frozen) return [];
  const fields = fieldsIn(type, message.fields);
  const { slots, bytes } = layOut(fields);
  const slotOf = new Map(slots.map((slot) => [slot.name, slot]));
  const ends: readonly string[] = endedParts[type as keyof typeof endedParts] ?? [];
  return [
    ...(message.entryKind === 0 ? [] : [[`log entry/${type}`, message.entryKind] as [string, number]]),
    [`message ${type}/bytes`, bytes],
    ...(ends.length === 0 ? [] : [[`message ${type}/end`, ends.join(', ')] as [string, string]]),
    ...fields.map(({ name, fact }, at): [string, string] => {
      const { offset, bytes: width } = slotOf.get(name)!;
      return [`message ${type}/${at + 1}`, `${name}: ${factWords(fact)}; ${width} bytes at ${offset}`];
    }),
  ];
}

function factWords(fact: WireFact): string {
  switch (fact.kind) {
    case 'integer':
      return `whole number ${fact.min}..${fact.max}`;
    case 'flag':
      return 'flag';
    case 'choice':
      return `choice ${fact.name}`;
    case 'hex':
      return `${fact.digits} hexadecimal digits`;
    case 'text':
      return `${fact.form === 'name' ? 'name' : 'text'} of ${fact.maxChars} characters, ${fact.maxWireBytes} bytes on the line`;
  }
}

/** In words each thing that is held and not so any more. */
export function changedFormats(held: Formats, now: Formats): string[] {
  const changed = Object.entries(held).flatMap(([path, was]) => {
    const is = now[path];
    if (is === undefined) return [`${path} was ${was} and is gone`];
    return is === was || isWider(path, was, is) ? [] : [`${path} was '${was}' and is '${is}'`];
  });
  const grown = newFormats(held, now).filter(
    (path) => `${wholeOf(path)}/bytes` in held || isPart(path, held),
  );
  return [...changed, ...grown.map((path) => `${path} is '${now[path]}', where nothing may be added`)];
}

/** The paths of what is not held yet. */
export function newFormats(held: Formats, now: Formats): string[] {
  return Object.keys(now).filter((path) => !(path in held));
}

/** What was kept is still in range. */
function isWider(path: string, was: string | number, is: string | number): boolean {
  return (path.endsWith('/least') && is < was) || (path.endsWith('/most') && is > was);
}

/** A document that is held has no other parts. */
function isPart(path: string, held: Formats): boolean {
  return wholeOf(path).startsWith('document ') && `${wholeOf(path)}/part 1` in held;
}

function wholeOf(path: string): string {
  return path.slice(0, path.lastIndexOf('/'));
}
