import type { Question } from './question.js';
import { isNone, literal, NONE } from './wording.js';

/** A line more. What is there stays: a file's notes may have many lines. */
export function notesQuestion(notes: string, read: (text: string) => string): Question<string> {
  return {
    key: 'notes',
    ask: notes === '' ? 'Notes' : 'Add to the notes',
    ready: NONE,
    help: `A line to remember; it stays on the laptop. '${NONE}' for nothing.`,
    read: (answer) => {
      if (isNone(answer)) return notes;
      return read([...(notes === '' ? [] : [notes]), literal(answer)].join('\n'));
    },
  };
}
