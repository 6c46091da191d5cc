import { TreadleError } from '../../errors.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';

export interface Failure {
  readonly status: 422 | 500 | 503;
  readonly message: string;
}

/** Bad input, no board, and what should not have happened, each by a status of its own; never a stack. */
export function failureOf(error: unknown): Failure {
  if (error instanceof TreadleError)
    return { status: error.exitCode === 3 ? 503 : 422, message: error.message };
  if (error instanceof UnreadableText) return { status: 422, message: error.message };
  const { name, message } = error instanceof Error ? error : new Error(String(error));
  return { status: 500, message: `something went wrong that should not have (${name}: ${message})` };
}
