import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { isEqualInWords, requireNoStaleWords } from '../equal-in-words.js';
import { lineOf } from '../line-of.js';
import { shuffled } from '../shuffled.js';
import { CHECKS_ALONE } from './checks.js';
import { Worker } from './crew.js';
import { couldBeSeen, type Mutant, mutantsOf } from './mutants.js';
import { isReached, report } from './report.js';
import { noticedByNewest, type Result, Results } from './results.js';
import type { Reach } from './trials.js';
import { compileWholeCore, mutationFolder, readWholeCore } from './whole-core.js';

export interface Plan {
  readonly sample: number;
  readonly seed: number;
  /** Ids of the only ones that are tried, whatever the sample. */
  readonly only: readonly string[];
  readonly workers: number;
  /** So many of a hundred that are not equal must be noticed. */
  readonly bar: number;
  /** Checks that take longer are left out. */
  readonly longestMs: number;
  readonly again: boolean;
  /** Part of the path of the only checks that are tried. */
  readonly checks: string | undefined;
}

/** Tries mutants of the whole core; whether enough were noticed. */
export async function mutateCore(plan: Plan): Promise<boolean> {
  compileWholeCore();
  const core = readWholeCore();
  const all = mutantsOf(core).filter((mutant) => couldBeSeen(core, mutant, lineOf(mutant)));
  const mutants =
    plan.only.length > 0
      ? all.filter(({ id }) => plan.only.includes(id))
      : shuffled(all, plan.seed).slice(0, plan.sample);
  console.error(`${mutants.length} of ${all.length} mutants of the core, seed ${plan.seed}`);
  requireNoStaleWords();
  const results = new Results(core.hash, noticedByNewest());
  if (plan.again) results.forgetUnnoticed();
  if (plan.checks !== undefined) process.env[CHECKS_ALONE] = plan.checks;
  const crew = Array.from({ length: plan.workers }, () => new Worker());
  try {
    const reaches = await reachOf(plan, core.hash, crew);
    for (const worker of crew) await worker.use(reaches, plan.longestMs);
    const waiting = mutants.filter(
      (mutant) => results.of(mutant.id) === undefined && !isEqualInWords(mutant),
    );
    const count = waiting.length;
    await Promise.all(crew.map((worker) => work(worker, waiting, results, count)));
  } finally {
    for (const worker of crew) worker.end();
  }
  return isReached(
    report(mutants, (mutant) => (isEqualInWords(mutant) ? 'equal' : results.of(mutant.id)?.is)),
    plan.bar,
  );
}

async function work(worker: Worker, waiting: Mutant[], results: Results, count: number): Promise<void> {
  for (let mutant = waiting.shift(); mutant !== undefined; mutant = waiting.shift()) {
    results.keep(await resultOf(worker, mutant));
    if (waiting.length % 50 === 0) console.error(`${count - waiting.length} of ${count} begun`);
  }
}

async function resultOf(worker: Worker, { id }: Mutant): Promise<Result> {
  const begunMs = performance.now();
  const verdict = await worker.try(id);
  const ms = Math.round(performance.now() - begunMs);
  if ((verdict.is === 'not noticed' || verdict.is === 'not reached') && (await worker.isEqual(id)))
    return { id, is: 'equal', ms };
  return { ...verdict, ms };
}

/** Measured once for each build of the core and each longest; always where only some checks are tried. */
async function reachOf({ checks, longestMs }: Plan, hash: string, crew: readonly Worker[]): Promise<Reach[]> {
  const file = join(mutationFolder, `reach-${hash}-${longestMs}.json`);
  if (checks === undefined && existsSync(file)) return JSON.parse(readFileSync(file, 'utf8'));
  const shares = await Promise.all(
    crew.map((worker, part) => worker.reach({ part, of: crew.length, longestMs })),
  );
  const reaches = shares.flat().toSorted((one, other) => one.ms - other.ms);
  if (checks === undefined) writeFileSync(file, JSON.stringify(reaches));
  return reaches;
}
