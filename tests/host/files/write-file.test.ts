import { execFile } from 'node:child_process';
import * as realDisk from 'node:fs/promises';
import { mkdir, mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FileAccessError, FileChangedError, FileThereError } from '../../../host/files/file-access-error.js';
import { type Disk, writeWholeFile } from '../../../host/files/write-file.js';
import { projectRoot } from '../../../shared-protocol/project.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treadle-test-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const text = (name: string) => readFile(at(name), 'utf8');

function systemError(code: string): NodeJS.ErrnoException {
  return Object.assign(new Error(`${code}: injected`), { code });
}

/** A disk whose step number `failing` fails, everything before and after it being real; it lists its steps. */
function disk(failing: number, code: string, steps: string[] = []): Disk {
  const step =
    <Args extends unknown[], Result>(name: string, work: (...args: Args) => Promise<Result>) =>
    async (...args: Args): Promise<Result> => {
      steps.push(name);
      if (steps.length - 1 === failing) throw systemError(code);
      return work(...args);
    };
  const open = step('open', realDisk.open);
  return {
    ...realDisk,
    open: async (...args: Parameters<typeof realDisk.open>) => {
      const file = await open(...args);
      const { writeFile, sync, close } = file;
      // Half of it is on the disk when the disk is full.
      file.writeFile = async (content) => {
        await file.write(String(content).slice(0, 3));
        await step('write', writeFile.bind(file))(String(content).slice(3));
      };
      file.sync = step('sync', sync.bind(file));
      file.close = async () => {
        await close.call(file);
        await step('close', async () => {})();
      };
      return file;
    },
    rename: step('rename', realDisk.rename),
    link: step('link', realDisk.link),
  } as Disk;
}

describe('a file that is written', () => {
  it('has what was to be written, and nothing beside it', async () => {
    await writeWholeFile(at('new.json'), 'new');
    expect(await text('new.json')).toBe('new');
    expect(await readdir(folder)).toEqual(['new.json']);
  });

  it('does not take the place of one that is there, unless it may', async () => {
    await writeFile(at('r.json'), 'old', { mode: 0o640 });
    await expect(writeWholeFile(at('r.json'), 'new')).rejects.toThrow(FileThereError);
    expect(await text('r.json')).toBe('old');
    await writeWholeFile(at('r.json'), 'new', { over: true });
    expect(await text('r.json')).toBe('new');
    expect((await stat(at('r.json'))).mode & 0o777).toBe(0o640);
    expect(await readdir(folder)).toEqual(['r.json']);
  });

  it('is synced before it gets its name, and its folder after', async () => {
    const steps: string[] = [];
    await writeWholeFile(at('r.json'), 'new', { over: true, disk: disk(-1, '', steps) });
    expect(steps).toEqual(['open', 'write', 'sync', 'close', 'rename', 'open', 'sync', 'close']);
  });

  it('goes to the file that a link points to, and the link stays', async () => {
    await writeFile(at('real.json'), 'old');
    await symlink(at('real.json'), at('link.json'));
    await writeWholeFile(at('link.json'), 'new', { over: true });
    expect(await text('real.json')).toBe('new');
    expect((await realDisk.lstat(at('link.json'))).isSymbolicLink()).toBe(true);
  });

  // A full disk left a recipe cut short, or an empty file, where an old one had been.
  const faults = [0, 1, 2, 3, 4].flatMap((failing) =>
    ['ENOSPC', 'EIO', 'EROFS', 'EDQUOT'].map((code) => [failing, code] as const),
  );
  it.each(faults)('with step %i failing by %s leaves the old file and no other', async (failing, code) => {
    for (const over of [true, false]) {
      await writeFile(at('old.json'), 'old');
      const path = over ? at('old.json') : at('new.json');
      await expect(writeWholeFile(path, 'new content', { over, disk: disk(failing, code) })).rejects.toThrow(
        FileAccessError,
      );
      expect(await text('old.json')).toBe('old');
      expect(await readdir(folder)).toEqual(['old.json']);
    }
  });

  it.each([5, 6, 7])(
    'with step %i failing is the new file, whole, and the failure is told',
    async (failing) => {
      await writeFile(at('r.json'), 'old');
      await expect(
        writeWholeFile(at('r.json'), 'new content', { over: true, disk: disk(failing, 'EIO') }),
      ).rejects.toThrow(FileAccessError);
      expect(await text('r.json')).toBe('new content');
      expect(await readdir(folder)).toEqual(['r.json']);
    },
  );

  it('is written where a file has but one name, as on a memory card', async () => {
    const card = { ...disk(-1, ''), link: () => Promise.reject(systemError('EPERM')) };
    await writeWholeFile(at('new.json'), 'new', { disk: card });
    expect(await readdir(folder)).toEqual(['new.json']);
  });

  it('does not take the place of one that came meanwhile', async () => {
    const late: Disk = {
      ...realDisk,
      link: async (from, to) => {
        await writeFile(to, 'somebody else’s');
        await realDisk.link(from, to);
      },
    };
    await expect(writeWholeFile(at('r.json'), 'new', { disk: late })).rejects.toThrow(FileThereError);
    expect(await text('r.json')).toBe('somebody else’s');
    expect(await readdir(folder)).toEqual(['r.json']);
  });

  // Each of them saw the old one before any wrote: without a lock, each said that its own had come in that place.
  it('of several that change one file at once is the one that was told so, and the others are refused', async () => {
    await writeFile(at('r.json'), 'old');
    let arrived = 0;
    let openGate = () => {};
    const gate = new Promise<void>((resolve) => {
      openGate = resolve;
    });
    const meeting: Disk = {
      ...realDisk,
      readFile: (async (path: string) => {
        const bytes = await realDisk.readFile(path);
        await turn();
        return bytes;
      }) as Disk['readFile'],
      rename: async (from, to) => {
        await turn();
        await realDisk.rename(from, to);
      },
    };
    const WRITERS = 4;
    /** The first that comes here waits until each of the others has come or was refused. */
    function turn(): Promise<void> {
      if (++arrived === WRITERS) openGate();
      return gate;
    }
    const tried = await Promise.all(
      Array.from({ length: WRITERS }, (_, number) =>
        writeWholeFile(at('r.json'), `${number}`, {
          over: true,
          was: Buffer.from('old'),
          disk: meeting,
        }).then(
          () => `${number}`,
          (error) => {
            void turn();
            return error;
          },
        ),
      ),
    );
    const written = tried.filter((one) => typeof one === 'string');
    expect(written).toHaveLength(1);
    expect(tried.filter((one) => one instanceof FileChangedError)).toHaveLength(WRITERS - 1);
    expect(await text('r.json')).toBe(written[0]);
    expect(await readdir(folder)).toEqual(['r.json']);
  });

  it('takes the place of what was read alone', async () => {
    await writeFile(at('r.json'), 'an editor’s');
    const asRead = { over: true, was: Buffer.from('old') };
    await expect(writeWholeFile(at('r.json'), 'new', asRead)).rejects.toThrow(FileChangedError);
    expect(await text('r.json')).toBe('an editor’s');
    await writeFile(at('r.json'), 'old');
    await writeWholeFile(at('r.json'), 'new', asRead);
    expect(await text('r.json')).toBe('new');
    expect(await readdir(folder)).toEqual(['r.json']);
  });

  it('is not kept out by a program that was killed while it changed that file', async () => {
    await writeFile(at('r.json'), 'old');
    const script = `import { writeWholeFile } from '${join(projectRoot, 'dist/host/files/write-file.js')}';
      import * as disk from 'node:fs/promises';
      await writeWholeFile(process.argv[1], 'new', { over: true, was: Buffer.from('old'),
        disk: { ...disk, rename: () => process.kill(process.pid, 'SIGKILL') } });`;
    const killed = promisify(execFile)(process.execPath, [
      '--input-type=module',
      '--eval',
      script,
      at('r.json'),
    ]);
    await expect(killed).rejects.toMatchObject({ signal: 'SIGKILL' });
    expect((await readdir(folder)).filter((name) => name.endsWith('.lock'))).toHaveLength(1);
    await writeWholeFile(at('r.json'), 'newer', { over: true, was: Buffer.from('old') });
    expect(await text('r.json')).toBe('newer');
    expect((await readdir(folder)).filter((name) => name.endsWith('.lock'))).toEqual([]);
  });

  // Whoever runs as the system's owner may write everything, so the disk says it here.
  it('does not take the place of one that may only be read', async () => {
    await writeFile(at('r.json'), 'old', { mode: 0o444 });
    const guarded: Disk = { ...realDisk, access: () => Promise.reject(systemError('EACCES')) };
    await expect(writeWholeFile(at('r.json'), 'new', { over: true, disk: guarded })).rejects.toThrow(
      /r\.json: it may only be read; name another file/,
    );
    expect(await text('r.json')).toBe('old');
  });

  it.each([
    ['a missing folder', 'none/r.json', 2, /there is no folder .*none; make it/],
    ['a folder in its way', 'taken', 2, /that is a folder; name a file/],
    ['a file where its folder should be', 'file/r.json', 2, /part of that path is a file/],
    ['a name that is too long', `${'x'.repeat(300)}.json`, 2, /that name is too long/],
  ])('is refused in words for %s', async (_, name, exitCode, words) => {
    await mkdir(at('taken'));
    await writeFile(at('file'), '');
    const failure = await writeWholeFile(at(name), 'new', { over: true }).catch((error) => error);
    expect(failure).toBeInstanceOf(FileAccessError);
    expect(failure).toMatchObject({ exitCode, message: expect.stringMatching(words) });
    expect((await readdir(folder)).sort()).toEqual(['file', 'taken']);
  });

  // Renaming over it would have replaced the device itself.
  it('never takes the place of a device', async () => {
    await expect(writeWholeFile('/dev/null', 'new', { over: true })).rejects.toThrow(/a pipe or a device/);
    expect((await stat('/dev/null')).isCharacterDevice()).toBe(true);
  });

  // setrlimit(2): beyond the limit a write fails with EFBIG, which is a disk that is full for one program alone.
  it('keeps the old one when the system really takes no more bytes', async () => {
    await writeFile(at('r.json'), 'old');
    const script = `import { writeWholeFile } from '${join(projectRoot, 'dist/host/files/write-file.js')}';
      await writeWholeFile(process.argv[1], 'x'.repeat(100_000), { over: true }).catch((error) => console.log(error.message));`;
    const limited = `ulimit -f 8; exec "$0" --input-type=module --eval "$1" "$2"`;
    const { stdout } = await promisify(execFile)('sh', [
      '-c',
      limited,
      process.execPath,
      script,
      at('r.json'),
    ]);
    expect(stdout).toContain('the system allows no file of that size');
    expect(await text('r.json')).toBe('old');
    expect(await readdir(folder)).toEqual(['r.json']);
  });
});
