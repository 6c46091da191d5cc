import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { treadleAlone } from '../../cli/treadle.js';

let folder: string;
let file: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-flash-'));
  file = join(folder, 'board.flash');
});
afterEach(() => rmSync(folder, { recursive: true }));

/** The file with this in it, made so long. */
function hold(text: string, bytes = text.length): string {
  writeFileSync(file, text);
  truncateSync(file, bytes);
  return file;
}

/** The number of a process that was, and is no more. */
function numberOfNobody(): number {
  return spawnSync(process.execPath, ['--version']).pid;
}

describe("the file behind a simulated board's flash", () => {
  it('belongs to one board at a time: two would each undo what the other keeps', () => {
    const board = new SimulatedBoard({ file });
    expect(() => new SimulatedBoard({ file })).toThrow(/in use by another simulated board/);
    const link = join(folder, 'link.flash');
    symlinkSync(file, link);
    expect(() => new Flash({ file: link })).toThrow(/in use/);
    board.close();
    new Flash({ file }).close();
    expect(readdirSync(folder).sort()).toEqual(['board.flash', 'link.flash']);
  });

  it('is let go of once, however often it is closed', () => {
    const flash = new Flash({ file });
    flash.close();
    const next = new Flash({ file });
    flash.close();
    expect(() => new Flash({ file })).toThrow(/in use/);
    next.close();
  });

  it.each([
    ['whose process is gone', () => `${numberOfNobody()}\n`],
    ['that bears our own number from long ago', () => `${process.pid}\n`],
    ['with nothing in it', () => ''],
  ])('is taken over from a lock %s', (_, content) => {
    new Flash({ file }).close();
    writeFileSync(`${file}.lock`, content());
    const flash = new Flash({ file });
    expect(() => new Flash({ file })).toThrow(/in use/);
    flash.close();
    expect(readdirSync(folder)).toEqual(['board.flash']);
  });

  it('that another program has is told on the command line, with exit code 2', async () => {
    const flash = new Flash({ file });
    const ran = await treadleAlone(['sim', '--storage', file]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(
      new RegExp(
        `^treadle: .*board\\.flash is in use by the simulated board of process ${process.pid}: end that one`,
      ),
    );
    flash.close();
  });

  it.each([
    ['of another size', () => hold('no flash'), /holds 8 bytes, and a board's flash \d+/],
    ['of gigabytes', () => hold('', 8e9), /holds 8000000000 bytes/],
    ['that is a folder', () => folder, /that is a folder/],
    ['in no folder', () => join(folder, 'none', 'board.flash'), /no such file or folder/],
    ['that is a device', () => '/dev/zero', /no plain file/],
  ])('%s is told in words', async (_, make, words) => {
    const ran = await treadleAlone(['sim', '--storage', make()]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toMatch(/should not have|\n {4}at /);
    expect(readdirSync(folder).filter((name) => name.includes('lock'))).toEqual([]);
  });
});
