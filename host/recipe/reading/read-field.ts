import type { z } from 'zod';
import { UnreadableText } from '../text/unreadable-text.js';
import { fieldProblems, fieldWords } from './field-problems.js';

/**
 * One field of a file, as its schema has it.
 * @throws UnreadableText with the first thing that is wrong with it
 */
export function readField<Schema extends z.ZodType>(schema: Schema, value: unknown): z.output<Schema> {
  const read = schema.safeParse(value, { error: fieldWords });
  if (read.success) return read.data;
  throw new UnreadableText(fieldProblems(read.error, value)[0]!.message);
}
