import { ExitCode } from './exit-code.js';
import { cleanText } from './terminal/clean-text.js';

interface Explained {
  readonly text: string;
  readonly exitCode: number;
}

/** Words of the operating system that people meet, with what to do. */
const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'that is a folder, a file is needed',
  ENOTDIR: 'part of that path is a file, not a folder',
  EACCES: 'you may not open it',
  EPERM: 'you may not do that',
  EROFS: 'that disk can only be read',
  ENOSPC: 'the disk is full',
  EEXIST: 'that file is there already',
};
const BAD_INPUT = new Set(['ENOENT', 'EISDIR', 'ENOTDIR']);

/** Clear words and an exit code for anything that was thrown; never a stack. */
export function explain(error: unknown): Explained {
  const text = cleanText(`treadle: ${wordsOf(error)}`, 'lines');
  return { text, exitCode: exitCodeOf(error) };
}

function wordsOf(error: unknown): string {
  if (isSystemError(error)) return `${error.path}: ${SYSTEM_WORDS[error.code] ?? error.message}`;
  if (!(error instanceof Error)) return String(error);
  if (hasExitCode(error)) return error.message;
  return `something went wrong that should not have (${error.name}: ${error.message})`;
}

function exitCodeOf(error: unknown): number {
  if (hasExitCode(error)) return error.exitCode;
  return isSystemError(error) && BAD_INPUT.has(error.code) ? ExitCode.wrongUse : ExitCode.failed;
}

function hasExitCode(error: unknown): error is Error & { readonly exitCode: number } {
  return error instanceof Error && 'exitCode' in error && typeof error.exitCode === 'number';
}

function isSystemError(error: unknown): error is NodeJS.ErrnoException & { code: string; path: string } {
  const found = error as NodeJS.ErrnoException | undefined;
  return error instanceof Error && !hasExitCode(error) && typeof found?.code === 'string' && !!found.path;
}
