/** Which tests are tried on mutants: all that run the core in this process and are quick. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';

const folders = [
  'tests/firmware/core',
  'tests/shared-protocol',
  'tests/proof/fuzz',
  'tests/proof/exploration',
];

/** They look at files or compile something, and do not run the core that they are handed. */
const beside = /core-file|packed-text|frozen-formats|imports\.test|settings\.test|read-record/;

export function filesOfChecks(): string[] {
  return folders
    .flatMap((folder) =>
      readdirSync(join(projectRoot, folder), { recursive: true, encoding: 'utf8' }).map((path) =>
        join(folder, path),
      ),
    )
    .filter((path) => path.endsWith('.test.ts') && !beside.test(path))
    .toSorted();
}
