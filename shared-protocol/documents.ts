import type { MessageType } from './schema.js';

/**
 * How the board's flash is laid out: rises when a board of before could not read it any more. It stands in every mark
 * of a sector and in every document (see firmware/core/storage/format-mark.ts).
 */
export const storageFormat = 1;

interface DocumentDefinition {
  /** Its kind on the flash, given once and for ever. */
  readonly number: number;
  /** The messages whose records make it up, in this order; each as often as the ones before it say. */
  readonly parts: readonly MessageType[];
  /** What came later and may follow behind them: who does not know it reads no further. */
  readonly behind?: readonly MessageType[];
}

/** The kinds of documents on the board's shelf. */
export const documents = {
  recipe: {
    number: 1,
    parts: ['recipe-begin', 'recipe-head', 'recipe-text', 'recipe-pass', 'recipe-dodge'],
    behind: ['recipe-fine'],
  },
  /** No messages: 32 bits a setting, each in its place by its number. */
  settings: { number: 2, parts: [] },
  /** Not in use; the number stays its own. */
  strip: { number: 3, parts: [] },
  baths: { number: 4, parts: ['bath'] },
  /** No messages: what lies on the desk, as firmware/core/evening/desk.ts has it; more may follow behind it. */
  desk: { number: 5, parts: [] },
  /** The recipe in use as the knob or a strip changed it, before the printer keeps it under its name. */
  'unkept-recipe': {
    number: 6,
    parts: ['recipe-begin', 'recipe-head', 'recipe-text', 'recipe-pass', 'recipe-dodge'],
    behind: ['recipe-fine'],
  },
  points: { number: 7, parts: ['bath-point'] },
  /** What the printer calls the board. */
  'board-name': { number: 8, parts: ['board-name'] },
} as const satisfies Readonly<Record<string, DocumentDefinition>>;

/** Records of the log that are begun and then ended: the fields that the end brings, as a record of their own. */
export const endedParts = {
  exposure: ['onMs', 'doseMs', 'outcome', 'pauses'],
} as const;
