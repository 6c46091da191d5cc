/**
 * Compiles the proofs that are programs of their own (bench, soak, mutation) to dist/proof, with the core where the
 * library looks for it, beside itself, and the desk's page.
 */
import { execFileSync } from 'node:child_process';
import { copyFileSync, cpSync, mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

execFileSync(
  process.execPath,
  [at('node_modules/typescript/bin/tsc'), '-p', at('tests/proof/bench/tsconfig.json')],
  {
    stdio: 'inherit',
  },
);
mkdirSync(at('dist/proof'), { recursive: true });
copyFileSync(at('dist/core.wasm'), at('dist/proof/core.wasm'));
cpSync(at('dist/library/desk'), at('dist/proof/library/desk'), { recursive: true });
