/** Takes guards out that a person chose, one at a time, and shows which check notices. */
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';
import { packedText } from '../../setup/compile-core.js';
import { writeStateFingerprint } from '../exploration/fingerprint.js';
import {
  coreMutants,
  hostMutants,
  type Mutant,
  type TestedMutant,
  testedMutants,
} from './guards-taken-out.js';

const folder = join(projectRoot, 'dist/mutants');
const LIMIT_MS = 300_000;
/** As many as `npm test` explores. */
const STATES = '100000';
const WORLDS = '1500';

/** Entry of the compiler and program that runs the check, for a mutant of the core. */
const checks = {
  worlds: { entry: 'firmware/core/index.ts', program: 'soak/main.js', args: ['--worlds', WORLDS] },
  states: {
    entry: 'tests/proof/exploration/explored.as.ts',
    program: 'soak/main.js',
    args: ['--states', STATES],
  },
  lines: { entry: 'tests/proof/fuzz/framer.as.ts', program: 'mutation/lines.js', args: [] },
} as const;

/** Replaces what must be there exactly once. */
function mutate(file: string, { from, to, guard }: Mutant): void {
  const source = readFileSync(file, 'utf8');
  if (source.split(from).length !== 2)
    throw new Error(`'${guard}': ${file} does not have its text once any more`);
  writeFileSync(
    file,
    source.replace(from, () => to),
  );
}

/** What the check said. */
function checkCore(mutant: Mutant, home: string): string {
  const { entry, program, args } = checks[mutant.check as keyof typeof checks];
  for (const part of ['firmware/core', 'tests/proof/exploration', 'tests/proof/fuzz'])
    cpSync(join(projectRoot, part), join(home, part), { recursive: true });
  writeStateFingerprint(home);
  mutate(join(home, mutant.file), mutant);
  const core = join(home, 'core.wasm');
  const asc = join(projectRoot, 'node_modules/assemblyscript/bin/asc.js');
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  const memory = [
    '--initialMemory',
    String(options.initialMemory),
    '--maximumMemory',
    String(options.maximumMemory),
  ];
  const flags = [
    '--runtime',
    options.runtime,
    ...memory,
    '--noAssert',
    '--optimizeLevel',
    '1',
    '--config',
    'none',
    '--transform',
    packedText,
  ];
  execFileSync(process.execPath, [asc, entry, ...flags, '--outFile', core], { cwd: home });
  return run(join(projectRoot, 'dist/proof/tests/proof', program), [...args, '--core', core]);
}

function checkHost(mutant: Mutant, home: string): string {
  cpSync(join(projectRoot, 'dist/proof'), join(home, 'proof'), { recursive: true });
  mutate(join(home, 'proof', mutant.file), mutant);
  const { program, args } = checks[mutant.check as keyof typeof checks];
  return run(join(home, 'proof/tests/proof', program), args);
}

/** A copy of all sources, since `npm test` itself would refuse what is not what was built. */
function checkTests(mutant: TestedMutant, home: string): string {
  for (const part of ['host', 'shared-protocol', 'tests', 'package.json'])
    cpSync(join(projectRoot, part), join(home, part), { recursive: true });
  symlinkSync(join(projectRoot, 'dist'), join(home, 'dist'));
  mutate(join(home, mutant.file), mutant);
  writeFileSync(join(home, 'vitest.config.mjs'), 'export default { test: { testTimeout: 60_000 } };\n');
  return run(join(projectRoot, 'node_modules/vitest/vitest.mjs'), [
    'run',
    '--no-color',
    '--root',
    home,
    mutant.test,
  ]);
}

function run(program: string, args: readonly string[]): string {
  const { stdout, stderr, error } = spawnSync(process.execPath, [program, ...args], {
    encoding: 'utf8',
    timeout: LIMIT_MS,
  });
  return `${stdout}${stderr}${error?.message ?? ''}`;
}

function check(mutant: Mutant | TestedMutant, home: string): string {
  if ('test' in mutant) return checkTests(mutant, home);
  return coreMutants.includes(mutant) ? checkCore(mutant, home) : checkHost(mutant, home);
}

/** Whether all are noticed; of `asked` checks only, or of all. */
export function takeGuardsOut(asked: readonly string[]): boolean {
  rmSync(folder, { recursive: true, force: true });
  console.log('| guard taken out | check | what it said |\n| --- | --- | --- |');
  const mutants = [...coreMutants, ...hostMutants, ...testedMutants].filter(
    ({ check }) => asked.length === 0 || asked.includes(check),
  );
  const noticed = mutants.map((mutant, index) => isNoticed(mutant, join(folder, String(index))));
  rmSync(folder, { recursive: true, force: true });
  return !noticed.includes(false);
}

function isNoticed(mutant: Mutant | TestedMutant, home: string): boolean {
  mkdirSync(home, { recursive: true });
  symlinkSync(join(projectRoot, 'node_modules'), join(home, 'node_modules'));
  const said = check(mutant, home);
  const complaint = said.split('\n').find((line) => mutant.noticed.test(line));
  console.log(
    `| ${mutant.guard} | ${mutant.check} | ${complaint?.trim().slice(0, 160) ?? `NOT NOTICED: ${said.slice(-300)}`} |`,
  );
  return complaint !== undefined;
}
