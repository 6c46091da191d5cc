import { counted } from '../../figures.js';
import { ownBytes } from '../read-own-file.js';
import { UsageError } from '../usage-error.js';
import type { Answers } from './answers.js';
import type { Question } from './question.js';

const OPTION = '--answers';

/** Answers that a script has ready, one a line, an empty line for Return alone; '-' is standard input. */
export async function answersInFile(path: string): Promise<Answers> {
  const text = new TextDecoder().decode(await ownBytes(path, OPTION));
  return new ListedAnswers(text.replace(/\r?\n$/, '').split(/\r?\n/));
}

class ListedAnswers implements Answers {
  #line = 0;

  constructor(readonly lines: readonly string[]) {}

  async next(question: Question): Promise<string> {
    const line = this.lines[this.#line];
    this.#line += 1;
    if (line === undefined) throw this.#wrong(`they end before '${question.ask}' is answered`);
    return line;
  }

  say(): void {}

  show(): void {}

  refuse(question: Question, words: string): void {
    throw this.#wrong(`'${question.ask}': ${words}`);
  }

  finish(): void {
    const left = this.lines.length - this.#line;
    if (left > 0)
      throw new UsageError(`${OPTION}: ${counted(left, 'answer')} left over; nothing was written`);
  }

  close(): void {}

  #wrong(words: string): UsageError {
    return new UsageError(`${OPTION}, line ${this.#line}: ${words}; nothing was written`);
  }
}
