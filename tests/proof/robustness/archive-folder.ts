import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll } from 'vitest';

/** A folder of the test file's own, gone when its tests are done: gives the path of a file in it. */
export function ownFolder(): (name: string) => string {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadle-robustness-'));
  });
  afterAll(() => rmSync(folder, { recursive: true }));
  return (name) => join(folder, name);
}
