import { type FailureExitCode, TreadleError } from '../errors.js';

/** The archive's file cannot be used as it is: the message says what to do. */
export class ArchiveError extends TreadleError {
  override readonly name = 'ArchiveError';
  readonly exitCode: FailureExitCode;
  constructor(
    readonly file: string,
    message: string,
    options: { readonly cause?: unknown; readonly exitCode?: FailureExitCode } = {},
  ) {
    super(`archive ${file}: ${message}`, { cause: options.cause });
    this.exitCode = options.exitCode ?? 1;
  }
}
