import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import asc from 'assemblyscript/asc';
import { projectRoot } from '../../shared-protocol/project.js';

/**
 * Compiles an AssemblyScript entry (path from the project's root) with the core's own options, so that a test
 * can reach a part of the core that the board does not export.
 * @throws Error with the compiler's words when it does not compile.
 */
export async function compileCore(entry: string): Promise<WebAssembly.Module> {
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  let binary: Uint8Array | undefined;
  const flags = Object.entries(options).flatMap(([name, value]) =>
    value === true ? [`--${name}`] : [`--${name}`, String(value)],
  );
  const { error, stderr } = await asc.main(
    [entry, ...flags, '--baseDir', projectRoot, '--outFile', 'core.wasm', '--config', 'none'],
    {
      writeFile(_name: string, contents: Uint8Array | string) {
        if (typeof contents !== 'string') binary = contents;
      },
    },
  );
  if (error || !binary) throw new Error(`${entry} does not compile: ${error?.message}\n${stderr.toString()}`);
  return new WebAssembly.Module(binary as BufferSource);
}
