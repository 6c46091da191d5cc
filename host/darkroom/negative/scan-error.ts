import { InputError } from '../../errors.js';

/** A scan that cannot be read as a picture; the message says what to do. */
export class ScanError extends InputError {
  override readonly name = 'ScanError';
}
