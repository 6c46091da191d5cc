import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { treadle } from '../cli/treadle.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-names-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

// The database library opens a temporary database for some of these, and a connection for others: a night's log went
// there, and the board was told to forget it.
describe('what is no file on a disk is no archive:', () => {
  it.each([
    '',
    ' ',
    ':memory:',
    'file:x?mode=memory',
    'file:/tmp/x.sqlite',
    'http://127.0.0.1/x',
    'libsql://x',
    'x/',
  ])('%j', async (name) => {
    await expect(openArchive(name)).rejects.toMatchObject({ name: 'ArchiveError', exitCode: 2 });
    await expect(readArchive(name)).rejects.toMatchObject({ name: 'ArchiveError', exitCode: 2 });
  });

  it.skipIf(process.platform === 'win32')('a folder, a pipe, a device', async () => {
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    for (const name of [folder, pipe, '/dev/null', '/dev/zero']) {
      await expect(openArchive(name), name).rejects.toMatchObject({ name: 'ArchiveError', exitCode: 2 });
      await expect(readArchive(name), name).rejects.toMatchObject({ name: 'ArchiveError', exitCode: 2 });
    }
  });

  it.each<[string[], NodeJS.ProcessEnv, RegExp]>([
    [['collect'], { TREADLE_ARCHIVE: '' }, /TREADLE_ARCHIVE.*empty/],
    [['collect', '--archive', ''], {}, /--archive.*empty/],
    [['collect', '--archive', ':memory:'], {}, /an archive is a file on a disk/],
    [['recipes', '--archive'], { TREADLE_ARCHIVE: '' }, /its name is empty/],
  ])(
    '%j with %j is told so with exit code 2, before any board is looked for',
    async (words, environment, say) => {
      const ran = await treadle(words, '', environment);
      expect(ran.code).toBe(2);
      expect(ran.err).toMatch(say);
      expect(ran.err).not.toMatch(/serial port|board answered/);
    },
  );
});

describe('an archive that nothing was kept in', () => {
  it('is not left behind by a command that failed', async () => {
    const file = join(folder, 'new', 'archive.sqlite');
    const words: string[][] = [
      ['collect', '--port', join(folder, 'no-port')],
      ['remark', 'jetty', 'fine'],
      ['nights'],
      ['recipes'],
    ];
    for (const each of words) {
      const ran = await treadle([...each, '--archive', file]);
      expect(ran.code, each.join(' ')).toBeGreaterThan(0);
      expect(ran.out).toBe('');
    }
    expect(existsSync(join(folder, 'new'))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.includes('sqlite'))).toEqual([]);
  });
});
