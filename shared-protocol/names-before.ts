import { type MessageType, messages, messageTypes } from './schema.js';

/** What a message was called in earlier protocols. */
export function namesBefore(type: MessageType): readonly string[] {
  return Object.values(messages[type].named);
}

/** What a message is called in that protocol. */
export function nameIn(type: MessageType, protocol: number): string {
  const named = messages[type].named;
  const last = Object.keys(named)
    .map(Number)
    .sort((one, other) => one - other);
  const until = last.find((version) => protocol <= version);
  return until === undefined ? type : named[until]!;
}

const typeOf = new Map<string, MessageType>(
  messageTypes.flatMap((type) => namesBefore(type).map((name): [string, MessageType] => [name, type])),
);
for (const name of typeOf.keys())
  if (name in messages) throw new Error(`'${name}' was another message once, and must not be used again`);

/** What is called so in this or an earlier protocol, by its name of today; a name that is not known stays as it is. */
export function nameNow(name: string): string {
  return typeOf.get(name) ?? name;
}
