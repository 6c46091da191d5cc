import { TreadleError } from '../errors.js';
import type { Core, CoreEffects } from './generated/core-interface.js';
import { type CoreModule, engine } from './webassembly.js';

const coreFile = new URL(
  import.meta.url.endsWith('.ts') ? '../../dist/core.wasm' : '../../core.wasm',
  import.meta.url,
);

/** The URL of the one core that board, simulated board and planner run: it lies beside the compiled library. */
export const coreUrl: string = coreFile.href;

/** The core's file is missing, or was not handed over: the message says what to do. */
export class CoreMissingError extends TreadleError {
  override readonly name = 'CoreMissingError';
  readonly exitCode = 1;
}

let compiled: CoreModule | undefined;

/**
 * Hands over core.wasm, compiled, where there are no files to read, before anything asks for the core:
 * `provideCore(await WebAssembly.compileStreaming(fetch('core.wasm')))`.
 */
export function provideCore(module: CoreModule): void {
  compiled = module;
}

/** The core as it was built, compiled once. @throws CoreMissingError */
export function coreModule(): CoreModule {
  compiled ??= new engine.Module(readCore());
  return compiled;
}

function readCore(): Uint8Array {
  // Asked for at run time, because a page cannot even load a file that imports it.
  const files = globalThis.process?.getBuiltinModule?.('node:fs');
  if (files === undefined)
    throw new CoreMissingError('core.wasm has to be handed over with provideCore() before it is used here');
  try {
    return files.readFileSync(coreFile);
  } catch (cause) {
    throw new CoreMissingError(
      `${coreUrl} cannot be read (${(cause as Error).message}): install treadle again, or run 'npm run build'`,
      { cause },
    );
  }
}

/** A core of its own, with these effects. */
export function startCore(effects: CoreEffects, module = coreModule()): Core {
  return instantiate(module, { board: { ...effects } });
}

/** A core that only calculates. It is never started as a board: an effect that it asked for would have nowhere to go. */
export function startCalculator(): Core {
  const module = coreModule();
  const imports: Record<string, Record<string, () => never>> = {};
  for (const { module: from, name } of engine.Module.imports(module)) {
    imports[from] ??= {};
    imports[from][name] = () => {
      throw new Error(`planning reached for the board's ${name}`);
    };
  }
  return instantiate(module, imports);
}

function instantiate(module: CoreModule, imports: object): Core {
  return new engine.Instance(module, imports).exports as Core;
}
