/** What the shell is told. */
export const ExitCode = {
  done: 0,
  /** Everything that has no number of its own. */
  failed: 1,
  /** Wrong use of the command, or input that cannot be right. */
  wrongUse: 2,
  /** No board was found, or it went away. */
  noBoard: 3,
} as const;
export type ExitCode = (typeof ExitCode)[keyof typeof ExitCode];
