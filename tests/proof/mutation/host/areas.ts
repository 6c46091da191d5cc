/** The parts of the host that are tried, and the tests that may notice: those that run it in this process. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type Change, changesIn } from './changes.js';

interface Area {
  readonly sources: string;
  readonly tests: readonly string[];
}

const areas: Readonly<Record<string, Area>> = {
  link: {
    sources: 'host/board/link',
    tests: ['tests/host/board/link', 'tests/host/recipe/baths', 'tests/host/records', 'tests/proof/security'],
  },
  records: {
    sources: 'host/records',
    tests: ['tests/host/records', 'tests/host/cli', 'tests/proof/robustness', 'tests/host/board/link'],
  },
  'shared-protocol': {
    sources: 'shared-protocol',
    tests: [
      'tests/shared-protocol',
      'tests/proof/fuzz',
      'tests/host/board/link',
      'tests/host/board/flash',
      'tests/host/recipe',
      'tests/host/records',
    ],
  },
};

/** What is generated, runs in the build alone, or is what the trials themselves find their files by. */
const beside = /\/generated?\/|\/project\.ts$/;
/** They start programs, or wait for more than a test of a mutant may. */
const outside =
  /noise|programs|killed-program|archive-names|at-a-port|real-port|cli\/questions\/|every-command|terminal|keys|loaded|watch|ports|cli\/help/;

function filesIn(folder: string): string[] {
  return readdirSync(join(projectRoot, folder), { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .map((path) => join(folder, path))
    .toSorted();
}

function areaOf(name: string): Area {
  const area = areas[name];
  if (area === undefined)
    throw new Error(`no part of the host is called ${name}: ${Object.keys(areas).join(', ')}`);
  return area;
}

/** Those with `only` in their path. */
export function testsOf(name: string, only = ''): string[] {
  return areaOf(name)
    .tests.flatMap(filesIn)
    .filter((file) => file.endsWith('.test.ts') && file.includes(only) && !outside.test(file));
}

export interface HostMutant extends Change {
  readonly id: string;
  readonly number: number;
  readonly file: string;
  readonly line: number;
}

export function sourcesOf(name: string): string[] {
  return filesIn(areaOf(name).sources).filter((file) => !beside.test(`/${file}`));
}

export function mutantsOf(name: string): HostMutant[] {
  return sourcesOf(name)
    .flatMap(mutantsIn)
    .map((mutant, number) => ({ ...mutant, number }));
}

function mutantsIn(file: string): Omit<HostMutant, 'number'>[] {
  const source = readFileSync(join(projectRoot, file), 'utf8');
  return changesIn(source).map((change) => ({
    ...change,
    file,
    id: `${file}:${change.start}-${change.end} ${change.words}`,
    line: source.slice(0, change.start).split('\n').length,
  }));
}
