/** Tries a seeded sample of changes of a part of the host; whether enough were noticed. */
import { type ChildProcess, fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isReached, report } from '../core/report.js';
import { Results } from '../core/results.js';
import { mutationFolder } from '../core/whole-core.js';
import { isEqualInWords, requireNoStaleWords } from '../equal-in-words.js';
import { shuffled } from '../shuffled.js';
import { type HostMutant, mutantsOf } from './areas.js';
import type { HostVerdict, Reach } from './trials.js';

export interface HostPlan {
  readonly area: string;
  readonly sample: number;
  readonly seed: number;
  readonly bar: number;
  readonly again: boolean;
  /** Only tests with that in their path may notice. */
  readonly checks: string | undefined;
}

const program = fileURLToPath(new URL('worker.js', import.meta.url));
/** A change that holds its process up this long never ends. */
const LIMIT_MS = 600_000;

export async function mutateHost({
  area,
  sample,
  seed,
  bar,
  again,
  checks = '',
}: HostPlan): Promise<boolean> {
  requireNoStaleWords();
  mkdirSync(mutationFolder, { recursive: true });
  const all = mutantsOf(area);
  const mutants = shuffled(all, seed).slice(0, sample);
  console.error(`${mutants.length} of ${all.length} changes of ${area}, seed ${seed}`);
  const hash = createHash('sha256')
    .update(all.map(({ id }) => id).join())
    .digest('hex')
    .slice(0, 16);
  const results = new Results(`${area}-${hash}`);
  if (again) results.forgetUnnoticed();
  const waiting = mutants.filter((mutant) => results.of(mutant.id) === undefined && !isSame(mutant));
  const crew = new HostWorker(area, mutants, checks);
  await tryAll(crew, waiting, results);
  crew.end();
  const counted = report(mutants, (mutant) => (isSame(mutant) ? 'equal' : results.of(mutant.id)?.is));
  return isReached(counted, bar);
}

const isSame = (mutant: HostMutant) => isEqualInWords(mutant);

/**
 * A new process after each that a change has spoilt. In a new one nothing else was changed before, and the test passed:
 * where it fails there as well, with the change and after it, it has noticed.
 */
async function tryAll(crew: HostWorker, waiting: readonly HostMutant[], results: Results): Promise<void> {
  for (const [at, { id, number }] of waiting.entries()) {
    const begunMs = performance.now();
    let verdict = await crew.try(number);
    if (verdict.is === 'unsure') {
      verdict = await crew.try(number);
      if (verdict.is === 'unsure') verdict = { ...verdict, is: 'noticed', said: 'it spoils its process' };
    }
    results.keep({ ...verdict, id, ms: Math.round(performance.now() - begunMs) });
    if (at % 20 === 0) console.error(`${at} of ${waiting.length} are tried`);
  }
}

class HostWorker {
  readonly #arguments: readonly string[];
  #child: ChildProcess | undefined;
  /** As the first process measured it. */
  #reach: readonly Reach[] | undefined;

  constructor(area: string, mutants: readonly HostMutant[], checks: string) {
    this.#arguments = [area, mutants.map(({ number }) => number).join(), checks];
  }

  /** Its process is not used again after a verdict that is not sure. */
  async try(number: number): Promise<HostVerdict> {
    this.#child ??= await this.#start();
    const child = this.#child;
    child.send(number);
    const verdict = await answerOf<HostVerdict>(child);
    if (isOver(verdict)) {
      this.end();
      return { is: 'noticed', by: 'its process', said: 'it never let go of it' };
    }
    if (verdict.is === 'unsure') this.end();
    return verdict;
  }

  async #start(): Promise<ChildProcess> {
    const child = fork(program, this.#arguments);
    const loaded = await answerOf<'loaded'>(child);
    child.send(this.#reach ?? 'measure');
    const reach = await answerOf<readonly Reach[]>(child);
    if (isOver(loaded) || isOver(reach))
      throw new Error('the tests do not run as they are, without any change');
    this.#reach = reach;
    return child;
  }

  end(): void {
    this.#child?.kill('SIGKILL');
    this.#child = undefined;
  }
}

type Over = { readonly is: 'over' };

const isOver = (answer: unknown): answer is Over => (answer as Over).is === 'over';

async function answerOf<Answer>(child: ChildProcess): Promise<Answer | Over> {
  const ended = new AbortController();
  const limit = setTimeout(() => ended.abort(), LIMIT_MS);
  const onExit = () => ended.abort();
  child.once('exit', onExit);
  try {
    return (await once(child, 'message', { signal: ended.signal }))[0] as Answer;
  } catch {
    return { is: 'over' };
  } finally {
    clearTimeout(limit);
    child.off('exit', onExit);
  }
}
