import type { Question } from './question.js';

/** Where answers come from: somebody at a terminal, or the lines of a file. */
export interface Answers {
  /** The next answer as it was given. @throws NothingWritten where there is none */
  next(question: Question, ready: string | undefined): Promise<string>;
  /** Words between questions. */
  say(words: string): void;
  /** Tables and their like, each line as it is. */
  show(text: string): void;
  /** An answer that cannot be: said, so that it is given anew, or thrown where nobody would. */
  refuse(question: Question, words: string): void;
  /** Nothing more is asked. @throws UsageError where there are answers left over */
  finish(): void;
  close(): void;
}
