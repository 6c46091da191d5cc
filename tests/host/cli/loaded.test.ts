import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';

const folder = join(projectRoot, 'dist/library/js');
/** As the bundler heads each file that it took in. */
const takenIn = /\n?\/\/ node_modules\/((?:@[^/]+\/)?[^/]+)\//g;
const imported = /(?:^|\n)(?:import|export)\b[^;'"]*?["']([^"']+)["'];/g;

/** The packages that are loaded before a file of the package runs, in it and through whatever it imports. */
function packagesOf(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen;
  seen.add(file);
  const code = readFileSync(join(folder, file), 'utf8');
  for (const [, name] of code.matchAll(takenIn)) seen.add(name!);
  for (const [, name] of code.matchAll(imported))
    if (name!.startsWith('./')) packagesOf(name!.slice(2), seen);
    else if (!name!.startsWith('node:')) seen.add(name!);
  return seen;
}

const chunk = (name: string) =>
  readdirSync(folder).find((file) => file === `${name}.js` || file.startsWith(`${name}-`))!;
const foreign = (name: string) => [...packagesOf(chunk(name))].filter((one) => !one.endsWith('.js')).sort();

/** Each takes up to a third of a second on a small machine, which a printer would wait for at every command. */
describe('what is loaded', () => {
  const base = ['commander', 'env-paths'];

  it('for help is the parser of options alone, with the 2 KB that say where the archive lies', () => {
    expect(foreign('run')).toEqual(base);
  });

  it.each(['nights', 'show-entries'])(
    'to read the archive (%s) is neither the schema nor what wraps words',
    (name) => {
      expect(foreign(name)).toEqual(base);
    },
  );
});
