import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

/** The compiler's step for the core's texts, as package.json's build has it. */
export const packedText = join(projectRoot, 'firmware/build/packed-text.mjs');

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
  mkdirSync(compiledFolder, { recursive: true });
  const folder = mkdtempSync(join(compiledFolder, 'compiling-'));
  try {
    const unfinished = join(folder, 'core.wasm');
    compileTo(entry, unfinished);
    // Other test files may be compiling the same: the last to finish wins, and none sees half a file.
    renameSync(unfinished, outFile);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Compiles an entry with the core's own options into a file. */
export function compileTo(entry: string, outFile: string): void {
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  const flags = Object.entries({ ...options, transform: packedText, config: 'none', outFile }).flatMap(
    ([name, value]) => (value === true ? [`--${name}`] : [`--${name}`, String(value)]),
  );
  const asc = join(projectRoot, 'node_modules/assemblyscript/bin/asc.js');
  execFileSync(process.execPath, [asc, entry, ...flags], { cwd: projectRoot });
}

/** Over everything that may go into a compiled entry. */
function hashOf(entry: string): string {
  const sources = ['firmware/core', 'firmware/build'].flatMap((folder) =>
    readdirSync(join(projectRoot, folder), { recursive: true, encoding: 'utf8' })
      .filter((path) => /\.(ts|mjs)$/.test(path))
      .map((path) => join(projectRoot, folder, path)),
  );
  const hash = createHash('sha256').update(entry);
  for (const path of [...sources.sort(), join(projectRoot, entry), join(projectRoot, 'asconfig.json')])
    hash.update(path).update(readFileSync(path));
  return hash.digest('hex').slice(0, 32);
}
