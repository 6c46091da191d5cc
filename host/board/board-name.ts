import { messages } from '../../shared-protocol/schema.js';
import { readField } from '../recipe/reading/read-field.js';
import { UnreadableText } from '../recipe/text/unreadable-text.js';

/** Takes a board's name away. */
const NONE = 'none';

/** A path, or the name of a port as Windows has it. */
export function looksLikePort(text: string): boolean {
  return /[/\\]|^com\d+$/i.test(text);
}

/** What a printer may call a board: nothing that is taken for a port or for the id of one. @throws UnreadableText */
export function readBoardName(text: string): string {
  const name = text.trim();
  if (name.toLowerCase() === NONE) return '';
  if (looksLikePort(name)) throw new UnreadableText(`'${name}' would be taken for a port`);
  if (/^[0-9a-f]{16}$/i.test(name))
    throw new UnreadableText(`'${name}' would be taken for the id of a board`);
  return readField(messages['name-set'].fields.name, name);
}
