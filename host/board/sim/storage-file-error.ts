import { InputError } from '../../errors.js';

/** A file that cannot be a simulated board's flash just now: the message says why and what to do. */
export class StorageFileError extends InputError {
  override readonly name = 'StorageFileError';
  constructor(
    readonly file: string,
    message: string,
  ) {
    super(message);
  }
}
