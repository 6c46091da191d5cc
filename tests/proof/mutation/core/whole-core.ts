import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { join, relative, resolve } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { packedText } from '../../../setup/compile-core.js';
import { writeStateFingerprint } from '../../exploration/fingerprint.js';
import { type FunctionBody, functionsOf, type Signature, signaturesOf } from './instructions.js';

const entry = 'tests/proof/mutation/core/whole.as.ts';
export const mutationFolder = join(projectRoot, 'dist/mutation');

/** The whole core with what tests reach of it besides, as bytes and as instructions that know their line. */
export interface WholeCore {
  readonly bytes: Uint8Array;
  readonly hash: string;
  readonly functions: readonly FunctionBody[];
  /** By the number that a call names. */
  readonly signatures: readonly Signature[];
  /** `firmware/core/...ts:12`, or nothing where the compiler says nothing. */
  lineOf(offset: number): string | undefined;
}

export function compileWholeCore(): string {
  mkdirSync(mutationFolder, { recursive: true });
  const wasm = join(mutationFolder, 'whole.wasm');
  const { options } = JSON.parse(readFileSync(join(projectRoot, 'asconfig.json'), 'utf8'));
  writeStateFingerprint();
  const flags = ['--runtime', options.runtime, '--noAssert', '--optimizeLevel', '1', '--config', 'none'];
  // A second page, for the marks of what was reached.
  const memory = ['--initialMemory', '2', '--maximumMemory', '2'];
  const named = ['--debug', '--sourceMap', '--transform', packedText, '--outFile', wasm];
  const asc = join(projectRoot, 'node_modules/assemblyscript/bin/asc.js');
  execFileSync(process.execPath, [asc, entry, ...flags, ...memory, ...named], { cwd: projectRoot });
  return wasm;
}

export function readWholeCore(): WholeCore {
  const wasm = join(mutationFolder, 'whole.wasm');
  if (!existsSync(wasm)) throw new Error(`${wasm} is missing: 'npm run mutation' compiles it`);
  const bytes = new Uint8Array(readFileSync(wasm));
  const map = new SourceMap(JSON.parse(readFileSync(`${wasm}.map`, 'utf8')));
  return {
    bytes,
    hash: createHash('sha256').update(bytes).digest('hex').slice(0, 16),
    functions: functionsOf(wasm, bytes),
    signatures: signaturesOf(wasm),
    lineOf(offset) {
      const found = map.findEntry(0, offset);
      if (!('originalSource' in found) || found.originalSource === undefined) return undefined;
      const file = relative(projectRoot, resolve(projectRoot, found.originalSource));
      return `${file}:${found.originalLine + 1}`;
    },
  };
}
