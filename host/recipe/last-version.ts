import { InputError } from '../errors.js';

/** As the recipe file's schema and the board have it. */
export const LAST_VERSION = 0xffff;

/** No version is left after 65535. */
export class NoVersionLeftError extends InputError {
  override readonly name = 'NoVersionLeftError';
  constructor(readonly recipe: string) {
    super(`'${recipe}' has had version ${LAST_VERSION}, the last that there is: give it another name`);
  }
}
