import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { coreModule } from '../../../host/core/load-core.js';

const written = readFileSync(
  new URL('../../../host/core/generated/core-interface.ts', import.meta.url),
  'utf8',
);

/** The functions of one of its interfaces. */
function functionsOf(name: string): string[] {
  const body = written.split(`export interface ${name} {\n`)[1]!.split('\n}')[0]!;
  return [...body.matchAll(/^ {2}(\w+)\(/gm)].map(([, called]) => called!).sort();
}

const names = (list: WebAssembly.ModuleImportDescriptor[] | WebAssembly.ModuleExportDescriptor[]) =>
  list.filter(({ kind }) => kind === 'function').map(({ name }) => name);

it('the host’s types name all that core.wasm exports, and nothing else', () => {
  expect(functionsOf('Core')).toEqual(names(WebAssembly.Module.exports(coreModule())).sort());
});

it('and all that it imports', () => {
  expect(functionsOf('CoreEffects')).toEqual(names(WebAssembly.Module.imports(coreModule())).sort());
});
