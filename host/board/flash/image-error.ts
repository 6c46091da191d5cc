import { InputError } from '../../errors.js';

/** A file that is no image for this board, or not a whole one. Nothing was written: give another file. */
export class ImageError extends InputError {
  override readonly name: string = 'ImageError';
}

/** A whole image that would take the board back to an earlier version: insist, or take a newer one. */
export class OlderImageError extends ImageError {
  override readonly name = 'OlderImageError';
}
