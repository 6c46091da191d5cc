import { dirname } from 'node:path';
import type { Result } from './results.js';

interface Mutant {
  readonly id: string;
  readonly file: string;
  readonly line: number;
  readonly words: string;
}

interface Count {
  noticed: number;
  'not noticed': number;
  equal: number;
}

/** By folder of the core what was noticed and what not, and each that was not; the sum. */
export function report<Reported extends Mutant>(
  mutants: readonly Reported[],
  verdictOn: (mutant: Reported) => Result['is'] | undefined,
): Count {
  const byFolder = new Map<string, Count>();
  const sum: Count = { noticed: 0, 'not noticed': 0, equal: 0 };
  const survivors: string[] = [];
  for (const mutant of mutants) {
    const verdict = verdictOn(mutant);
    if (verdict === undefined || verdict === 'not valid') continue;
    const is = verdict === 'noticed' || verdict === 'equal' ? verdict : 'not noticed';
    const folder = dirname(mutant.file).replace(/^firmware\/core\//, '');
    const count = byFolder.get(folder) ?? { noticed: 0, 'not noticed': 0, equal: 0 };
    byFolder.set(folder, count);
    count[is]++;
    sum[is]++;
    if (is === 'not noticed')
      survivors.push(`${mutant.file}:${mutant.line} ${mutant.words} (${mutant.id}, ${verdict})`);
  }
  console.log(
    '| folder | noticed | not noticed | equal | of 100 that are not equal |\n| --- | --- | --- | --- | --- |',
  );
  for (const [folder, count] of [...byFolder].toSorted()) console.log(row(folder, count));
  console.log(row('all', sum));
  if (survivors.length > 0) console.log(`\nnot noticed:\n${survivors.toSorted().join('\n')}`);
  return sum;
}

const share = (count: Count) => (100 * count.noticed) / (count.noticed + count['not noticed']);

function row(folder: string, count: Count): string {
  return `| ${folder} | ${count.noticed} | ${count['not noticed']} | ${count.equal} | ${share(count).toFixed(1)} |`;
}

export function isReached(sum: Count, bar: number): boolean {
  if (share(sum) >= bar) return true;
  console.error(`${share(sum).toFixed(1)} of a hundred are noticed; the bar is at ${bar}`);
  return false;
}
