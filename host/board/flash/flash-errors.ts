import { type FailureExitCode, InputError, TreadleError } from '../../errors.js';

/** A file that is no image for this board, or not a whole one. Nothing was written: give another file. */
export class ImageError extends InputError {
  override readonly name: string = 'ImageError';
}

/** A whole image that would take the board back to an earlier version: insist, or take a newer one. */
export class OlderImageError extends ImageError {
  override readonly name = 'OlderImageError';
}

/** The board was not asked, or said no: nothing has changed, and it goes on as it was. */
export class NotAllowedAtBoardError extends TreadleError {
  override readonly name = 'NotAllowedAtBoardError';
  readonly exitCode = 1;
}

/** There is no drive of a board's boot program, or more than one. */
export class BootDriveError extends TreadleError {
  override readonly name = 'BootDriveError';
  constructor(
    message: string,
    readonly exitCode: FailureExitCode = 3,
  ) {
    super(message);
  }
}

/** The drive did not take the whole image. */
export class DriveWriteError extends TreadleError {
  override readonly name = 'DriveWriteError';
  constructor(
    message: string,
    readonly exitCode: FailureExitCode,
    cause: unknown,
  ) {
    super(message, { cause });
  }
}

/** All was written, but no board, or not the one that was meant, or not that version has come back. */
export class NotBackError extends TreadleError {
  override readonly name = 'NotBackError';
  readonly exitCode = 3;
}
