/** Writes (or with --check compares) everything that is generated from the schema. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { projectRoot, projectVersion } from '../project.js';
import { writeCodec, writeConstants, writeFieldTable } from './assemblyscript.js';
import { writeCHeader } from './c-header.js';
import { writeRecordReaders } from './record-readers.js';
import { writeVersions } from './versions.js';

const files: readonly [path: string, content: string][] = [
  ['firmware/core/generated/constants.ts', writeConstants(projectVersion)],
  ['firmware/core/generated/codec.ts', writeCodec()],
  ['firmware/core/generated/field-table.ts', writeFieldTable()],
  ['firmware/board/generated/limits.h', writeCHeader()],
  ['shared-protocol/generated/record-readers.ts', writeRecordReaders()],
  ['shared-protocol/generated/versions.ts', writeVersions(projectVersion)],
];

function isFresh(path: string, content: string): boolean {
  try {
    return readFileSync(path, 'utf8') === content;
  } catch {
    return false;
  }
}

const stale = files.filter(([path, content]) => !isFresh(join(projectRoot, path), content));
if (process.argv.includes('--check')) {
  for (const [path] of stale) console.error(`${path} is not what the schema says: run 'npm run build'`);
  process.exitCode = stale.length > 0 ? 1 : 0;
} else {
  for (const [path, content] of stale) {
    mkdirSync(dirname(join(projectRoot, path)), { recursive: true });
    writeFileSync(join(projectRoot, path), content);
  }
}
