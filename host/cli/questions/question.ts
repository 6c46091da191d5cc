/** One line that is asked, and what may be answered. */
export interface Question<Value = unknown> {
  /** What an answer is remembered by, where somebody goes back past it; each once in an interview. */
  readonly key: string;
  readonly ask: string;
  /** Taken by Return alone, as exactly this text; without it something has to be typed. */
  readonly ready?: string | undefined;
  /** What '?' says: what is meant, what may be typed, and with which keys. */
  readonly help: string;
  /** Shown above, such as what is to be agreed to. */
  readonly above?: string;
  /** @throws UnreadableText or InputError with words for people */
  read(answer: string): Value;
  /** What only the disk can say of it. @throws as `read` */
  check?(value: Value): Promise<void>;
}

/**
 * Questions in their order, each of which may depend on the answers so far. It is begun anew and given the old answers
 * when somebody goes back, so it does nothing but ask.
 */
export type Interview<Result> = Generator<Question, Result, string>;

/** One question and its answer. */
export function* ask<Value>(question: Question<Value>): Interview<Value> {
  return question.read(yield question as Question);
}
