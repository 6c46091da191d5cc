import type { FieldProblem } from './field-problems.js';

interface KindOfFile {
  /** The field that each file of this kind has, and none of another. */
  readonly mark: string;
  readonly is: string;
  readonly takenBy: string;
}

const kinds: readonly KindOfFile[] = [
  { mark: 'passes', is: 'a recipe', takenBy: "'treadle send' gives recipes to the board" },
  { mark: 'baths', is: 'a file of baths', takenBy: "'treadle baths set' gives baths to the board" },
  { mark: 'patches', is: 'a test strip', takenBy: "'treadle strip --file' takes strips" },
];

/** A file of another kind than the one that is read: one thing is wrong with it, and not each of its fields. */
export function anotherKind(value: unknown, ownFields: object): FieldProblem[] {
  if (typeof value !== 'object' || value === null) return [];
  if (kinds.some(({ mark }) => mark in ownFields && mark in value)) return [];
  const kind = kinds.find(({ mark }) => mark in value && !(mark in ownFields));
  return kind === undefined ? [] : [{ path: [], message: `this is ${kind.is}: ${kind.takenBy}` }];
}
