import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

interface Manifest {
  readonly name: string;
  readonly version: string;
}

function readManifest(folder: string): Manifest | undefined {
  try {
    return JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  } catch {
    return undefined;
  }
}

function findProject(): { root: string; manifest: Manifest } {
  // The same code runs from its source (tests) and from dist/ (everything else).
  for (let root = dirname(fileURLToPath(import.meta.url)); ; root = dirname(root)) {
    const manifest = readManifest(root);
    if (manifest?.name === 'treadle') return { root, manifest };
    if (root === dirname(root))
      throw new Error('treadle is not installed whole: its package.json is missing');
  }
}

const project = findProject();

/** The package's folder: where package.json and dist/ lie. Only build, proofs and demonstrations ask for it. */
export const projectRoot = project.root;

/** The one version of everything, from package.json; the build writes it down for all else. */
export const projectVersion = project.manifest.version;
