import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { answerOf, type Held, isHeld } from './answer-of.js';
import type { HostMutant } from './areas.js';
import type { HostVerdict, Place, Reach } from './trials.js';

const program = fileURLToPath(new URL('worker.js', import.meta.url));

/** A process that tries changes; a new one where a change has spoilt it or holds it. */
export class HostWorker {
  readonly #arguments: readonly string[];
  #child: ChildProcess | undefined;
  /** As the first process measured it. */
  #reach: readonly Reach[] | undefined;

  constructor(area: string, mutants: readonly HostMutant[], checks: string) {
    this.#arguments = [area, mutants.map(({ number }) => number).join(), checks];
  }

  /** Its process is not used again after a verdict that is not sure. */
  async try(number: number): Promise<HostVerdict> {
    const verdict = await this.#ask<HostVerdict>(number);
    if (isHeld(verdict)) return this.#verdictOnHeld(number, verdict);
    if (verdict.is === 'unsure') this.end();
    return verdict;
  }

  /** A change that holds its process is noticed where its check passes without it; else the check is left out. */
  async #verdictOnHeld(number: number, { held, at }: Held): Promise<HostVerdict> {
    const noticed: HostVerdict = { is: 'noticed', by: at?.name ?? 'whoever loads it', said: held };
    // A new process has loaded everything without the change before it is asked.
    if (at === undefined || (await this.#ask<boolean>(at)) === true) return noticed;
    this.end();
    process.stderr.write(`left out, since without any change it fails or holds its process: ${at.name}\n`);
    this.#reach = this.#reach!.filter((place) => !isSame(place, at));
    return this.try(number);
  }

  async #ask<Answer>(order: number | Place): Promise<Answer | Held> {
    this.#child ??= await this.#start();
    this.#child.send(order);
    const answer = await answerOf<Answer>(this.#child);
    if (isHeld(answer)) this.end();
    return answer;
  }

  async #start(): Promise<ChildProcess> {
    const child = fork(program, this.#arguments);
    // What a change leaves behind may end its process later, when nothing is asked of it.
    child.once('exit', () => {
      if (this.#child === child) this.#child = undefined;
    });
    child.on('error', () => child.kill('SIGKILL'));
    requireAnswer(await answerOf<'loaded'>(child));
    child.send(this.#reach ?? 'measure');
    const reach = await answerOf<readonly Reach[]>(child);
    requireAnswer(reach);
    this.#reach = reach;
    return child;
  }

  end(): void {
    this.#child?.kill('SIGKILL');
    this.#child = undefined;
  }
}

const isSame = (one: Place, other: Place) => one.file === other.file && one.at === other.at;

function requireAnswer<Answer>(answer: Answer | Held): asserts answer is Answer {
  if (isHeld(answer))
    throw new Error(
      `the tests do not run as they are, without any change: ${answer.held}, at ${answer.at?.name ?? 'loading'}`,
    );
}
