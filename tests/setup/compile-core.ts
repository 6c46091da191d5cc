import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

const compiledFolder = join(projectRoot, 'dist/tested-cores');

/**
 * Compiles an AssemblyScript entry (path from the project's root) with the core's own options, so that a test
 * can reach a part of the core that the board does not export. What was compiled from the same sources
 * before is used again.
 * @throws Error with the compiler's words when it does not compile.
 */
export function compileCore(entry: string): WebAssembly.Module {
  return new WebAssembly.Module(readFileSync(compiledCore(entry)));
}

/** As `compileCore`, but the file that it leaves. */
export function compiledCore(entry: string): string {
  const compiled = join(compiledFolder, `${hashOf(entry)}.wasm`);
  if (!existsSync(compiled)) compile(entry, compiled);
  return compiled;
}

function compile(entry: string, outFile: string): void {
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  const flags = Object.entries(options).flatMap(([name, value]) =>
    value === true ? [`--${name}`] : [`--${name}`, String(value)],
  );
  mkdirSync(compiledFolder, { recursive: true });
  const folder = mkdtempSync(join(compiledFolder, 'compiling-'));
  try {
    const unfinished = join(folder, 'core.wasm');
    const asc = join(projectRoot, 'node_modules/assemblyscript/bin/asc.js');
    execFileSync(process.execPath, [asc, entry, ...flags, '--config', 'none', '--outFile', unfinished], {
      cwd: projectRoot,
    });
    // Other test files may be compiling the same: the last to finish wins, and none sees half a file.
    renameSync(unfinished, outFile);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Over everything that may go into a compiled entry. */
function hashOf(entry: string): string {
  const core = join(projectRoot, 'firmware/core');
  const sources = readdirSync(core, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .map((path) => join(core, path));
  const hash = createHash('sha256').update(entry);
  for (const path of [...sources.sort(), join(projectRoot, entry), join(projectRoot, 'asconfig.json')])
    hash.update(path).update(readFileSync(path));
  return hash.digest('hex').slice(0, 32);
}
