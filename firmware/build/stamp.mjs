/**
 * What dist/ was built from and what the build wrote, file by file, so that neither a changed source nor a changed
 * output goes unnoticed.
 *
 *   node firmware/build/stamp.mjs --check    exit code 1, with the first file that is wrong, unless dist/ is as built
 */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const projectFolder = resolve(fileURLToPath(import.meta.url), '../../..');

const sourceFolders = ['shared-protocol', 'host', 'firmware/core', 'firmware/build'];
const sourceFiles = ['package.json', 'package-lock.json', 'tsconfig.json', 'asconfig.json'];
const outputFolders = [
  'dist',
  'firmware/core/generated',
  'firmware/board/generated',
  'host/core/generated',
  'shared-protocol/generated',
];
const stampPath = 'dist/built-from.json';

/** What others keep in dist/, each under a name or with a stamp that says what it was made from. */
const kept = /^dist\/(?:image[^/]*|tested-cores|compiled-cores|mutation)(?:\/|$)/;

/** What is no part of a build but goes with it: the compiled proofs, and cores broken on purpose. */
const beside = /^dist\/(?:proof|mutants)(?:\/|$)/;

const isGenerated = (path) => path.split('/').includes('generated');

/** The files below these folders, by their path from the project's folder. */
export function filesBelow(folders) {
  return folders
    .filter((folder) => existsSync(join(projectFolder, folder)))
    .flatMap((folder) =>
      readdirSync(join(projectFolder, folder), { recursive: true, encoding: 'utf8' }).map((path) =>
        join(folder, path),
      ),
    )
    .filter((path) => statSync(join(projectFolder, path)).isFile())
    .toSorted();
}

function hashesOf(paths) {
  const hash = (path) =>
    createHash('sha256')
      .update(readFileSync(join(projectFolder, path)))
      .digest('hex');
  return Object.fromEntries(paths.map((path) => [path, hash(path)]));
}

function sources() {
  const paths = filesBelow(sourceFolders).filter((path) => !isGenerated(path));
  return hashesOf([...paths, ...sourceFiles]);
}

function outputs() {
  const isOutput = (path) => path !== stampPath && !kept.test(path) && !beside.test(path);
  return hashesOf(filesBelow(outputFolders).filter(isOutput));
}

/** What a build has to take away before it begins: everything in dist/ that is not kept. */
export function staleEntries() {
  if (!existsSync(join(projectFolder, 'dist'))) return [];
  return readdirSync(join(projectFolder, 'dist'))
    .map((name) => `dist/${name}`)
    .filter((path) => !kept.test(path));
}

export function writeStamp() {
  writeFileSync(join(projectFolder, stampPath), JSON.stringify({ sources: sources(), outputs: outputs() }));
}

/** The first path that the two lists do not have alike. */
function firstDifference(one, other) {
  return [...new Set([...Object.keys(one), ...Object.keys(other)])]
    .toSorted()
    .find((path) => one[path] !== other[path]);
}

/** What is wrong with dist/, in words; nothing if it is as it was built from the present sources. */
export function findStampProblem() {
  if (!existsSync(join(projectFolder, stampPath))) return 'dist/ was not built to its end';
  const built = JSON.parse(readFileSync(join(projectFolder, stampPath), 'utf8'));
  const source = firstDifference(built.sources, sources());
  if (source !== undefined) return `dist/ was not built from these sources: ${source} differs`;
  const output = firstDifference(built.outputs, outputs());
  if (output !== undefined) return `${output} is not what the build wrote`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const problem = findStampProblem();
  if (problem !== undefined) console.error(`${problem}: run 'npm run build'`);
  process.exitCode = problem === undefined ? 0 : 1;
}
