import { systemTrouble } from '../files/file-access-error.js';
import { ExitCode } from './exit-code.js';
import { cleanText } from './terminal/clean-text.js';

interface Explained {
  readonly text: string;
  readonly exitCode: number;
}

/** Clear words and an exit code for anything that was thrown; never a stack. */
export function explain(error: unknown): Explained {
  const text = cleanText(`treadle: ${wordsOf(error)}`, 'lines');
  return { text, exitCode: exitCodeOf(error) };
}

function wordsOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  if (hasExitCode(error)) return error.message;
  const trouble = systemTrouble(error);
  if (trouble !== undefined) return [pathOf(error), trouble.say].filter((words) => words !== '').join(': ');
  return `something went wrong that should not have (${error.name}: ${error.message})`;
}

function exitCodeOf(error: unknown): number {
  if (error instanceof Error && hasExitCode(error)) return error.exitCode;
  return systemTrouble(error)?.exitCode ?? ExitCode.failed;
}

function hasExitCode(error: Error): error is Error & { readonly exitCode: number } {
  return 'exitCode' in error && typeof error.exitCode === 'number';
}

function pathOf(error: Error): string {
  return (error as NodeJS.ErrnoException).path ?? '';
}
