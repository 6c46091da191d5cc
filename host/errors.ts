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
