/**
 * Builds everything that runs, from the schema to the core, into an empty dist/: the host library and the command line,
 * the generated codec, core.wasm, the JSON Schemas, and the stamp that says what it was built from. The board's image
 * is built apart (npm run image).
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { filesBelow, projectFolder, staleEntries, writeStamp } from './stamp.mjs';

const inProject = (path) => join(projectFolder, path);

/** What went wrong in a step, which has already said so itself. */
class StepFailed extends Error {}

/** Runs a JavaScript file by this Node. */
async function runNode(script, ...args) {
  const child = spawn(process.execPath, [script, ...args], { cwd: projectFolder, stdio: 'inherit' });
  const code = await new Promise((done, fail) => child.on('error', fail).on('exit', done));
  if (code !== 0) throw new StepFailed();
}

/** Compiles TypeScript by a folder's tsconfig.json. */
const compile = (folder) => runNode('node_modules/typescript/bin/tsc', '-p', folder);

function clean() {
  for (const path of staleEntries()) rmSync(inProject(path), { recursive: true });
}

/** Over all that the core's compiler reads, itself included. */
function hashOfCore() {
  const compiler = JSON.parse(readFileSync(inProject('node_modules/assemblyscript/package.json'), 'utf8'));
  const steps = ['packed-text', 'shrink-core'].map((step) => `firmware/build/${step}.mjs`);
  const paths = [...filesBelow(['firmware/core']), ...steps, 'asconfig.json'];
  const hash = createHash('sha256').update(compiler.version);
  for (const path of paths) hash.update(`${path}\n`).update(readFileSync(inProject(path)));
  return hash.digest('hex').slice(0, 32);
}

/** Compiling the core takes longer than everything else together, so one of the same sources is used again. */
async function buildCore() {
  const known = inProject(`dist/compiled-cores/${hashOfCore()}`);
  if (!existsSync(known)) {
    rmSync(inProject('dist/compiled-cores'), { recursive: true, force: true });
    await compileCore(known);
  }
  copyFileSync(join(known, 'core.wasm'), inProject('dist/core.wasm'));
}

async function compileCore(into) {
  const unfinished = `${into}.${process.pid}`;
  mkdirSync(unfinished, { recursive: true });
  const wasm = join(unfinished, 'core.wasm');
  const transform = ['--transform', './firmware/build/packed-text.mjs'];
  try {
    await runNode(
      'node_modules/assemblyscript/bin/asc.js',
      'firmware/core/index.ts',
      '--target',
      'release',
      '-o',
      wasm,
      ...transform,
    );
    await runNode('firmware/build/shrink-core.mjs', wasm);
    renameSync(unfinished, into);
  } finally {
    rmSync(unfinished, { recursive: true, force: true });
  }
}

/** In this order: what a step reads, an earlier one has written. */
const steps = [
  clean,
  () => compile('shared-protocol/generate'),
  () => runNode('dist/shared-protocol/generate/write-codec.js'),
  () => runNode('firmware/build/write-core-interface.mjs'),
  () => compile('.'),
  () => runNode('firmware/build/bundle-library.mjs'),
  buildCore,
  () => runNode('firmware/build/bundle-desk.mjs'),
  () => runNode('dist/host/cli/schemas/write-json-schemas.js'),
  writeStamp,
];

try {
  for (const step of steps) await step();
} catch (error) {
  if (!(error instanceof StepFailed)) throw error;
  process.exitCode = 1;
}
