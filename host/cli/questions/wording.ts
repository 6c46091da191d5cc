import { COMMAND_WORDS } from './conduct.js';

/** The answer for a field that stays empty. */
export const NONE = 'none';

export const HOW_TO_QUOTE = 'A name that is back, quit, help or none goes in quotes: "back".';

/** What is meant by an answer: without the blanks around it, and without the quotes that make a word no command. */
export function literal(answer: string): string {
  const trimmed = answer.trim();
  return /^"(.*)"$/s.exec(trimmed)?.[1] ?? trimmed;
}

export function isNone(answer: string): boolean {
  return answer.trim().toLowerCase() === NONE;
}

/** A text as the answer that means it; `literal` and `isNone` undo it. */
export function asAnswer(text: string): string {
  if (text === '') return NONE;
  const isPlain =
    text === text.trim() && !text.startsWith('"') && !COMMAND_WORDS.includes(text.toLowerCase());
  return isPlain ? text : `"${text}"`;
}
