import { TreadleError } from '../errors.js';
import { ExitCode } from './exit-code.js';

/** A mistake in what was typed, told in words that say how to put it right. */
export class UsageError extends TreadleError {
  override readonly name = 'UsageError';
  readonly exitCode = ExitCode.wrongUse;
}
