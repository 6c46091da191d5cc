import { TreadleError } from '../../errors.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { ExitCode } from '../exit-code.js';
import type { Answers } from './answers.js';
import type { Interview, Question } from './question.js';

/** Somebody did not want it after all. Not 'done', so that what a script would do next is not done. */
export class NothingWritten extends TreadleError {
  override readonly name = 'NothingWritten';
  readonly exitCode = ExitCode.failed;

  constructor(why = 'stopped') {
    super(`${why}; nothing was written`);
  }
}

/** Words that are no answers; in quotes they are. */
const HELP = ['?', 'help'];
const BACK = 'back';
/** Not 'stop', which is a bath. */
const QUIT = 'quit';
export const COMMAND_WORDS = [...HELP, BACK, QUIT, 'none'];

export const HOW_TO_ANSWER =
  "Return takes the answer in [ ]. '?' or 'help' explains, 'back' goes to the question before, 'quit' ends with nothing written. No key is needed but letters, digits and Return.";

/**
 * Asks to the end and hands back what came of it.
 * @throws NothingWritten; whatever `answers` throws
 */
export async function conduct<Result>(start: () => Interview<Result>, answers: Answers): Promise<Result> {
  try {
    const result = await new Talk(start, answers).toTheEnd();
    answers.finish();
    return result;
  } finally {
    answers.close();
  }
}

class Talk<Result> {
  readonly #start: () => Interview<Result>;
  readonly #answers: Answers;
  #interview: Interview<Result>;
  #turn: IteratorResult<Question, Result>;
  /** What was answered so far, in order. */
  readonly #given: string[] = [];
  /** The last answer to every question, also to those that were gone back past. */
  readonly #last = new Map<string, string>();

  constructor(start: () => Interview<Result>, answers: Answers) {
    this.#start = start;
    this.#answers = answers;
    this.#interview = start();
    this.#turn = this.#interview.next();
  }

  async toTheEnd(): Promise<Result> {
    let shown: string | undefined;
    while (!this.#turn.done) {
      const question = this.#turn.value;
      if (question.above !== undefined && question.above !== shown) this.#answers.show(question.above);
      shown = question.above;
      await this.#hear(question);
    }
    return this.#turn.value;
  }

  async #hear(question: Question): Promise<void> {
    const ready = this.#last.get(question.key) ?? question.ready;
    const typed = await this.#answers.next(question, ready);
    const word = typed.trim().toLowerCase();
    if (HELP.includes(word)) this.#answers.say(question.help);
    else if (word === BACK) this.#goBack();
    else if (word === QUIT) throw new NothingWritten();
    else if (word !== '') await this.#take(question, typed);
    else if (ready !== undefined) await this.#take(question, ready);
    else this.#answers.refuse(question, 'there is no usual answer to this; type one');
  }

  async #take(question: Question, answer: string): Promise<void> {
    const fault = await faultOf(question, answer);
    if (fault !== undefined) {
      this.#answers.refuse(question, fault);
      return;
    }
    this.#given.push(answer);
    this.#last.set(question.key, answer);
    this.#turn = this.#interview.next(answer);
  }

  #goBack(): void {
    if (this.#given.pop() === undefined) this.#answers.say('This is the first question.');
    this.#interview = this.#start();
    this.#turn = this.#interview.next();
    for (const answer of this.#given) this.#turn = this.#interview.next(answer);
  }
}

/** What is wrong with an answer, in words. */
async function faultOf(question: Question, answer: string): Promise<string | undefined> {
  try {
    const value = question.read(answer);
    await question.check?.(value);
    return undefined;
  } catch (error) {
    if (error instanceof UnreadableText || error instanceof TreadleError) return error.message;
    throw error;
  }
}
