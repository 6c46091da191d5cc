import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { oneDeskPerArchive } from '../../../host/desk/index.js';
import { treadleAlone } from '../cli/treadle.js';

let folder: string;
let archive: string;
let lock: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-lock-'));
  archive = join(folder, 'archive.sqlite');
  lock = `${archive}.desk.lock`;
});
afterEach(() => rmSync(folder, { recursive: true }));

const url = `http://127.0.0.1:1/#${'t'.repeat(43)}`;

async function taken(): Promise<() => void> {
  const desk = await oneDeskPerArchive(archive, url);
  if ('url' in desk) throw new Error(`${desk.url} has it`);
  return desk.release;
}

describe.skipIf(process.platform === 'win32')("an archive's one desk", () => {
  it('is noted where only its owner reads it, and leaves nothing behind', async () => {
    const release = await taken();
    expect(statSync(lock).mode & 0o077).toBe(0);
    release();
    expect(readdirSync(folder)).toEqual([]);
  });

  it.each(['', 'Dear Sir', 'http://192.0.2.1:80/#x', url])(
    'takes over what is left of a desk: %j',
    async (left) => {
      writeFileSync(lock, left);
      (await taken())();
      expect(existsSync(lock)).toBe(false);
    },
  );

  // A link to nothing had it look without end, a pipe had it wait, a folder was an internal error and ended nothing.
  it.each([
    ['a link to nothing', () => symlinkSync(join(folder, 'nothing'), lock)],
    ['a link to a file', () => symlinkSync(archive, lock)],
    ['a pipe', () => execFileSync('mkfifo', [lock])],
    ['a folder', () => mkdirSync(lock)],
    ['a large file', () => writeFileSync(lock, 'x'.repeat(1000))],
  ])('is not taken by way of %s, which stays as it is', async (_, put) => {
    writeFileSync(archive, '');
    put();
    await expect(taken()).rejects.toThrow(/archive\.sqlite\.desk\.lock was not made by a desk of yours/);
    expect(readdirSync(folder).sort()).toEqual(['archive.sqlite', 'archive.sqlite.desk.lock']);
  });

  // It was first written under a name that could be told beforehand, through whatever link somebody had put there.
  it('is written under no name that anybody could have taken before', async () => {
    const [other, guess] = [join(folder, 'other'), `${lock}-${process.pid}`];
    writeFileSync(other, 'theirs');
    symlinkSync(other, guess);
    const release = await taken();
    expect(readFileSync(other, 'utf8')).toBe('theirs');
    release();
    expect(readdirSync(folder).sort()).toEqual([basename(guess), 'other'].sort());
  });

  it('that cannot be had ends the command in words', async () => {
    mkdirSync(lock);
    const { code, err } = await treadleAlone(['desk', '--no-open', '--archive', archive]);
    expect(code).toBe(2);
    expect(err).toContain('take that away');
  });
});
