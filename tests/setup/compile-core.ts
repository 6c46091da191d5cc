import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

/**
 * Compiles an AssemblyScript entry (path from the project's root) with the core's own options, so that a test
 * can reach a part of the core that the board does not export.
 * @throws Error with the compiler's words when it does not compile.
 */
export function compileCore(entry: string): WebAssembly.Module {
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  const flags = Object.entries(options).flatMap(([name, value]) =>
    value === true ? [`--${name}`] : [`--${name}`, String(value)],
  );
  const folder = mkdtempSync(join(tmpdir(), 'treadle-core-'));
  try {
    const outFile = join(folder, 'core.wasm');
    const asc = join(projectRoot, 'node_modules/assemblyscript/bin/asc.js');
    execFileSync(process.execPath, [asc, entry, ...flags, '--config', 'none', '--outFile', outFile], {
      cwd: projectRoot,
    });
    return new WebAssembly.Module(readFileSync(outFile));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
