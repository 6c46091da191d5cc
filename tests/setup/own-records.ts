import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/**
 * What a test keeps without naming a place for it goes into a folder of its own: the records of whoever runs the tests
 * are neither read nor written, and no file of tests finds what another left.
 */
const folder = mkdtempSync(join(tmpdir(), 'treadle-test-records-'));
// As env-paths has it; on a Mac it goes by the home folder alone.
for (const name of ['XDG_DATA_HOME', 'LOCALAPPDATA', ...(process.platform === 'darwin' ? ['HOME'] : [])])
  process.env[name] = folder;
for (const name of ['TREADLE_ARCHIVE', 'TREADLE_PORT']) delete process.env[name];

afterAll(() => rmSync(folder, { recursive: true }));
