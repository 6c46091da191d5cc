import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { withLock } from './rig/build-lock.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-lock-'));
afterAll(() => rmSync(folder, { recursive: true }));

// A run that was killed while it built the image left its lock, and every later one failed after two minutes of waiting.
test('an image is built although a run that was killed left its lock', () => {
  const { pid } = spawnSync('true');
  const name = join(folder, 'image-build');
  writeFileSync(`${name}.lock`, `${pid}\n`);
  const seen = withLock(name, () => readdirSync(folder));
  expect(seen).toEqual(['image-build.lock']);
  expect(readdirSync(folder)).toEqual([]);
});
