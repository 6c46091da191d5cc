/**
 * Changes that no test can notice, since what the core does stays the same, and why: what the compiler's optimizer cannot
 * prove. A change that only does no harm that anybody thought of does not belong here.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';
import type { Mutant } from './mutants.js';

interface Equal {
  /** Part of the path below `firmware/core`. */
  readonly file: string;
  /** Part of the line that is changed; it stands in the file. */
  readonly line: string;
  readonly change: RegExp;
  readonly why: string;
}

const sign = /_[su] as \w+_?[su]$/;

const equals: readonly Equal[] = [
  { file: 'plan/pulses.ts', line: 'end < plan.pieceCount', change: sign, why: 'both count from 0' },
];

export function isEqualInWords({ file, words }: Mutant, sourceLine: string): boolean {
  return equals.some(
    (equal) => file.endsWith(equal.file) && sourceLine.includes(equal.line) && equal.change.test(words),
  );
}

/** What is said of lines that are not there any more. */
export function staleWords(): string[] {
  return equals
    .filter(
      ({ file, line }) => !readFileSync(join(projectRoot, 'firmware/core', file), 'utf8').includes(line),
    )
    .map(({ file, line }) => `${file}: '${line}'`);
}
