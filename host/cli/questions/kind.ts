import type { Interview } from './question.js';

/** A kind of file that a printer makes by answering questions: how it is asked for, shown and written. */
export interface Kind<Value> {
  /** What is ready for a new one. */
  readonly usual: Value;
  /** @throws FileError */
  read(bytes: Uint8Array): Value;
  /** What stands in its file. */
  file(value: Value): object;
  questions(before: Value): Interview<Value>;
  /** One thing changed. @throws UsageError, UnreadableText or InputError with words for people */
  set(value: Value, name: string, answer: string): Value;
  /** What only the whole can show. @throws UsageError if it cannot be carried out, or lacks something */
  complete(value: Value): Value;
  /** What it comes to, in words and as data. */
  account(value: Value): { readonly words: string; readonly data: object };
  /** What differs, a line for each. */
  changes(before: Value, after: Value): string[];
  /** The changed one as it is written: a next version, where there are versions. */
  revise(before: Value, after: Value): Value;
  /** How it is spoken of once it is written: "'slipway' version 2". */
  called(value: Value): string;
  /** For its file, without the ending. */
  fileName(value: Value): string;
}
