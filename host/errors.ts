/** What a command-line tool should end with: 2 wrong use or bad input, 3 no board or a lost one, 1 the rest. */
export type FailureExitCode = 1 | 2 | 3;

/** Everything that can go wrong and that a person can do something about: the message says what. */
export abstract class TreadleError extends Error {
  abstract readonly exitCode: FailureExitCode;
}

/** Figures, texts or files that cannot be right: correct them. */
export abstract class InputError extends TreadleError {
  readonly exitCode = 2;
}

/** A package with a native part did not load: install it again. All that does without it still works. */
export class PackageUnavailableError extends TreadleError {
  override readonly name = 'PackageUnavailableError';
  readonly exitCode = 1;
  constructor(
    /** The package's name in the registry. */
    readonly packageName: string,
    /** What cannot be done, for '... cannot be used'. */
    lacking: string,
    cause: unknown,
  ) {
    const reason = cause instanceof Error ? cause.message.split('\n')[0] : cause;
    super(
      `${lacking} cannot be used, because the package '${packageName}' did not load (${reason}): ` +
        `install it again with this version of Node; all else works without it`,
      { cause },
    );
  }
}
