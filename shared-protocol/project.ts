import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

function findRoot(): string {
  // The same code runs from its source (tests) and from dist/ (everything else).
  for (let at = dirname(fileURLToPath(import.meta.url)); ; at = dirname(at)) {
    try {
      readFileSync(join(at, 'asconfig.json'));
      return at;
    } catch {
      if (at === dirname(at)) throw new Error('treadle is not installed whole: asconfig.json is missing');
    }
  }
}

/** The package's folder: where package.json and dist/ lie. */
export const projectRoot = findRoot();

/** The one version of everything, from package.json. */
export const version: string = JSON.parse(readFileSync(join(projectRoot, 'package.json'), 'utf8')).version;
