import { InputError } from '../../../errors.js';

/** A print that cannot be opened or kept as it was asked for. */
export class PrintError extends InputError {
  override readonly name = 'PrintError';
}
