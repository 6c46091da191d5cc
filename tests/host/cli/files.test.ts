import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle, treadlePath } from './treadle.js';

const recipe = join(projectRoot, 'host/evening/boathouse.json');
const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
const inFolder = (name: string) => join(folder, name);
beforeAll(() => void execFileSync('mkfifo', [inFolder('pipe')]));
afterAll(() => rmSync(folder, { recursive: true }));

const strip = ['strip', '--first', '5s', '--step', '1/2', '--patches', '5'];

describe('a mistake with a file', () => {
  // Each of these came out as 'something went wrong that should not have', or did not come out at all.
  it.each<[string[], RegExp]>([
    [['check', '.'], /<recipe>: \. is a folder; name a file/],
    [['check', ''], /<recipe> was given as '', which is empty/],
    [['check', '/dev/zero'], /<recipe>: \/dev\/zero is a pipe or a device/],
    [['check', inFolder('pipe')], /<recipe>: .*pipe is a pipe or a device/],
    [['check', inFolder('none.json')], /<recipe>: cannot read .*none\.json: there is no such file/],
    [['strip', '--file', '.'], /--file: \. is a folder/],
    [['filter', recipe, '--to', '4', '--filters', '.'], /--filters: \. is a folder/],
    [['contrast', '--grades', recipe], /must be a list in \[ \]/],
    [['rescale', recipe, '--magnification', '8', '-o', 'none/x.json'], /--output: .*there is no folder none/],
    [['preview', recipe, '-o', 'none/x.png'], /--output: .*there is no folder none/],
    [['preview', recipe, '-o', inFolder('x.png'), '--scan', ''], /--scan was given as '', which is empty/],
    [['preview', recipe, '-o', inFolder('x.png'), '--scan', '.'], /--scan: \. is a folder/],
    [['preview', recipe, '-o', inFolder('x.png'), '--paper', '.'], /--paper: \. is a folder/],
    [['map', recipe, '-o', 'none/x.svg'], /--output: .*there is no folder none/],
    [['baths', 'usual', '-o', '.'], /--output: .*that is a folder/],
    [['evening', '--pictures', recipe], /--pictures: cannot make the folder .*a file of that name/],
    [['save', 'Boat house'], /<name>: 'Boat house' is not the name of a recipe; names have small letters/],
    [['info', '--port', ''], /--port was given as '', which is empty/],
  ])('is told in words: treadle %j', async (words, said) => {
    const ran = await treadle(words);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(said);
    expect(readdirSync(folder)).toEqual(['pipe']);
  });

  it('in a variable that is set and empty is told as that', async () => {
    const ran = await treadle(['info'], '', { TREADLE_PORT: '' });
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('the environment variable TREADLE_PORT is set and empty');
  });

  it('is none where a filter has no name, since that is what no filter is called', async () => {
    expect((await treadle(['filter', recipe, '--to', ''])).code).toBe(0);
  });
});

describe('a recipe', () => {
  it('comes from standard input where its name is -', async () => {
    const ran = await treadle(['check', '-'], readFileSync(recipe, 'utf8'));
    expect(ran).toMatchObject({ code: 0, out: expect.stringMatching(/^no mistakes in standard input: /) });
  });

  it('of text that turns the reading direction is printed and written with escapes, and is the same', async () => {
    const hostile = JSON.parse(readFileSync(recipe, 'utf8'));
    hostile.notes = 'the sky\u202e and \u009b31m';
    const from = inFolder('hostile.json');
    const to = inFolder('changed.json');
    writeFileSync(from, JSON.stringify(hostile));
    const ran = await treadle(['rescale', from, '--magnification', '8', '-o', to, '--json']);
    for (const text of [ran.out, readFileSync(to, 'utf8')]) {
      expect(text).not.toMatch(/[\u007f-\u009f\u202a-\u202e]/);
      expect(text).toContain('the sky\\u202e and \\u009b31m');
    }
    expect(JSON.parse(readFileSync(to, 'utf8')).notes).toBe(hostile.notes);
    for (const path of [from, to]) rmSync(path);
  });
});

/** What `treadle` says, and ends with, when what it prints goes to a file of this name. */
function printingTo(path: string, words: readonly string[]): Promise<{ code: number | null; err: string }> {
  const child = spawn('sh', ['-c', 'exec "$@" > "$0"', path, process.execPath, treadlePath, ...words]);
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text) => {
    err += text;
  });
  return new Promise((resolve) => child.on('close', (code) => resolve({ code, err })));
}

describe('output that is not taken', () => {
  // A full disk behind '>' printed a stack.
  it.each([[strip], [['schema']], [['help', 'strip']], [['check', recipe]]])(
    'by a full disk is told in one line: treadle %j',
    async (words) => {
      const ran = await printingTo('/dev/full', words);
      expect(ran.code).toBe(1);
      expect(ran.err).toBe(
        'treadle: what was printed could not be written: the disk is full; make room, then try again\n',
      );
    },
  );

  it('by a reader that has seen enough ends it quietly', async () => {
    const child = spawn(process.execPath, [treadlePath, 'schema']);
    child.stdout.destroy();
    let err = '';
    child.stderr.on('data', (text) => {
      err += text;
    });
    expect(await new Promise((resolve) => child.on('close', resolve))).toBe(0);
    expect(err).toBe('');
  });
});

describe('an evening whose pictures have a folder', () => {
  afterEach(() => {
    for (const name of readdirSync(folder)) if (name !== 'pipe') rmSync(inFolder(name));
  });

  // It wrote over the pictures, and put its log into whatever archive was there.
  it.each([
    ['print.png', /print\.png is there already/],
    ['archive.sqlite', /there is an archive in .* already/],
  ])('is not played where %s is there', async (name, said) => {
    writeFileSync(inFolder(name), 'mine');
    const ran = await treadle(['evening', '--pictures', folder]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(said);
    expect(readFileSync(inFolder(name), 'utf8')).toBe('mine');
  });

  it('with --force takes the place of the pictures, and never of the archive', async () => {
    for (const name of ['print.png', 'archive.sqlite']) writeFileSync(inFolder(name), 'mine');
    expect((await treadle(['evening', '--pictures', folder, '--force', '--json'])).code).toBe(0);
    expect(readFileSync(inFolder('archive.sqlite'), 'utf8')).toBe('mine');
    expect(readFileSync(inFolder('print.png')).subarray(1, 4).toString()).toBe('PNG');
    expect(readdirSync(folder)).toContain('archive-2.sqlite');
  });
});
