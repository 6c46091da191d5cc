/** Marks what dist/ was built from; with --check fails when the sources have changed since. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../project.js';

const sources = ['shared-protocol', 'host', 'firmware/core', 'firmware/build'];
const stampPath = join(projectRoot, 'dist/built-from');

/** One hash over every source of what lies in dist/ and the files that say how it is built. */
function hashSources(): string {
  const paths = sources.flatMap((folder) =>
    readdirSync(join(projectRoot, folder), { recursive: true, encoding: 'utf8' })
      .filter((path) => /\.(ts|mjs)$/.test(path))
      .map((path) => join(folder, path)),
  );
  const hash = createHash('sha256');
  for (const path of [...paths.sort(), 'package.json', 'tsconfig.json', 'asconfig.json'])
    hash.update(`${path}\n`).update(readFileSync(join(projectRoot, path)));
  return hash.digest('hex');
}

function recorded(): string {
  try {
    return readFileSync(stampPath, 'utf8');
  } catch {
    return '';
  }
}

if (!process.argv.includes('--check')) writeFileSync(stampPath, hashSources());
else if (recorded() !== hashSources()) {
  console.error("dist/ was not built from these sources: run 'npm run build'");
  process.exitCode = 1;
}
