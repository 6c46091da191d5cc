import { createInterface, type Interface } from 'node:readline';
import wrapAnsi from 'wrap-ansi';
import { cleanText } from '../terminal/clean-text.js';
import { UsageError } from '../usage-error.js';
import type { Answers } from './answers.js';
import { HOW_TO_ANSWER, NothingWritten } from './conduct.js';
import type { Question } from './question.js';

/** What a line has where the terminal does not say how wide it is. */
const USUAL_WIDTH = 80;

/**
 * Answers typed at this terminal, a line each. Questions go to standard error, so that standard output stays free.
 * Ctrl-C ends the program as it ends any other.
 * @throws UsageError where there is no terminal
 */
export function answersAtTheTerminal(): Answers {
  if (!process.stdin.isTTY || !process.stderr.isTTY)
    throw new UsageError(
      'there is no terminal to ask at: give the answers in a file, one a line, with --answers FILE (or - for standard input)',
    );
  return new TerminalAnswers();
}

class TerminalAnswers implements Answers {
  readonly #lines: Interface;
  /** Lines that were typed or pasted before they were asked for. */
  readonly #early: string[] = [];
  #waiting: { take(line: string): void; give(reason: Error): void } | undefined;
  #isOver = false;

  constructor() {
    this.#lines = createInterface({ input: process.stdin, output: process.stderr, historySize: 0 });
    this.#lines
      .on('line', (line) => this.#hear(line))
      .on('close', () => this.#end())
      .on('SIGINT', () => this.#interrupt());
    this.say(HOW_TO_ANSWER);
  }

  next(question: Question, ready: string | undefined): Promise<string> {
    const prompt = cleanText(`${question.ask}${ready === undefined ? '' : ` [${ready}]`}: `);
    const early = this.#early.shift();
    if (early !== undefined) {
      this.show(`${prompt}${early}`);
      return Promise.resolve(early);
    }
    if (this.#isOver) return Promise.reject(new NothingWritten());
    return new Promise((take, give) => {
      this.#waiting = { take, give };
      this.#lines.setPrompt(prompt);
      this.#lines.prompt();
    });
  }

  say(words: string): void {
    this.show(wrapAnsi(cleanText(words, 'lines'), process.stderr.columns || USUAL_WIDTH));
  }

  show(text: string): void {
    process.stderr.write(`${cleanText(text, 'lines')}\n`);
  }

  refuse(_question: Question, words: string): void {
    this.say(`That will not do: ${words}`);
  }

  finish(): void {}

  close(): void {
    this.#lines.close();
  }

  #hear(line: string): void {
    const waiting = this.#waiting;
    this.#waiting = undefined;
    if (waiting === undefined) this.#early.push(line);
    else waiting.take(line);
  }

  /** Ctrl-D, or a terminal that went away. */
  #end(): void {
    this.#isOver = true;
    if (this.#waiting !== undefined) this.say('');
    this.#waiting?.give(new NothingWritten());
  }

  /** A terminal that is read key by key sends no signal by itself. */
  #interrupt(): void {
    this.#waiting = undefined;
    this.close();
    this.say('\nNothing was written.');
    process.kill(process.pid, 'SIGINT');
  }
}
