/** Which tests are tried on mutants: all that run the core in this process and are quick. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';

const places = [
  'tests/firmware/core',
  'tests/shared-protocol',
  'tests/proof/fuzz',
  'tests/proof/exploration',
  'tests/formats/newer-flash.test.ts',
  'tests/formats/flash.test.ts',
];

/** They look at files or compile something, and do not run the core that they are handed. */
const beside = /core-file|packed-text|frozen-formats|imports\.test|settings\.test|read-record/;

/** Part of the path of those that are tried alone, where not all are. */
export const CHECKS_ALONE = 'TREADLE_CHECKS';

export function filesOfChecks(): string[] {
  const alone = new RegExp(process.env[CHECKS_ALONE] ?? '');
  return places
    .flatMap((place) =>
      place.endsWith('.ts')
        ? [place]
        : readdirSync(join(projectRoot, place), { recursive: true, encoding: 'utf8' }).map((path) =>
            join(place, path),
          ),
    )
    .filter((path) => path.endsWith('.test.ts') && !beside.test(path) && alone.test(path))
    .toSorted();
}
