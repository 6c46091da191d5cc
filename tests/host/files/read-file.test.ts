import { execFileSync } from 'node:child_process';
import { mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FileAccessError } from '../../../host/files/file-access-error.js';
import { checkPlainFile, readWholeFile } from '../../../host/files/read-file.js';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treadle-test-'));
  await writeFile(join(folder, 'ten'), '0123456789');
  await symlink(join(folder, 'round'), join(folder, 'round'));
  execFileSync('mkfifo', [join(folder, 'pipe')]);
});
afterAll(() => rm(folder, { recursive: true }));

describe('a file that is read', () => {
  it('comes whole, up to the bytes that it may have', async () => {
    expect(String(await readWholeFile(join(folder, 'ten'), 10))).toBe('0123456789');
    await expect(readWholeFile(join(folder, 'ten'), 9)).rejects.toThrow(/larger than 9 bytes/);
  });

  // The size of these is told as nothing, so only reading them shows it.
  it('is given up as soon as it is longer than it said', async () => {
    expect((await readWholeFile('/proc/self/status', 65_536)).length).toBeGreaterThan(100);
    await expect(readWholeFile('/proc/self/status', 100)).rejects.toThrow(/larger than 100 bytes/);
  });

  // Reading /dev/zero took 8.9 GB of memory, and a pipe without a writer waited for ever.
  it.each([
    ['/dev/zero', /a pipe or a device/],
    ['pipe', /a pipe or a device; name a plain file/],
    ['.', /is a folder; name a file/],
    ['none', /there is no such file or folder/],
    ['ten/none', /part of that path is a file/],
    ['round', /lead round in a circle/],
  ])('%s is refused in words', async (name, words) => {
    const path = name.startsWith('/') ? name : join(folder, name);
    for (const read of [readWholeFile, checkPlainFile]) {
      const failure = await read(path, 100).catch((error) => error);
      expect(failure).toBeInstanceOf(FileAccessError);
      expect(failure).toMatchObject({ exitCode: 2, path, message: expect.stringMatching(words) });
    }
  });
});
