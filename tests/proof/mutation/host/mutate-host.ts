/** Tries a seeded sample of changes of a part of the host; whether enough were noticed. */
import { createHash } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { isReached, report } from '../core/report.js';
import { Results } from '../core/results.js';
import { mutationFolder } from '../core/whole-core.js';
import { isEqualInWords, requireNoStaleWords } from '../equal-in-words.js';
import { shuffled } from '../shuffled.js';
import { type HostMutant, mutantsOf } from './areas.js';
import { HostWorker } from './host-worker.js';

export interface HostPlan {
  readonly area: string;
  readonly sample: number;
  readonly seed: number;
  readonly bar: number;
  readonly again: boolean;
  /** Only tests with that in their path may notice. */
  readonly checks: string | undefined;
  /** Only mutants with one of these ids; all, where there is none. */
  readonly only: readonly string[];
}

export async function mutateHost({
  area,
  sample,
  seed,
  bar,
  again,
  checks = '',
  only,
}: HostPlan): Promise<boolean> {
  requireNoStaleWords();
  mkdirSync(mutationFolder, { recursive: true });
  const all = mutantsOf(area);
  const isAsked = ({ id }: HostMutant) => only.length === 0 || only.includes(id);
  const mutants = shuffled(all, seed).slice(0, sample).filter(isAsked);
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
