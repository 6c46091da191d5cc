import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { listOf } from '../../setup/list-of.js';

const program = fileURLToPath(new URL('programs/pull-and-die.mjs', import.meta.url));
const STARTS = 150;

/** A board's file with so many starts in its log. */
function makeBoard(file: string): void {
  const board = new SimulatedBoard({ file });
  for (let start = 1; start < STARTS; start++) {
    board.advanceUs(1_000_000);
    board.reset('watchdog');
  }
  board.advanceUs(1_000_000);
  board.close();
}

async function withFolder(work: (boardFile: string, archiveFile: string) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-killed-'));
  try {
    const boardFile = join(folder, 'board.flash');
    makeBoard(boardFile);
    await work(boardFile, join(folder, 'archive.sqlite'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Runs the program; it is killed after so many batches. With `blocks` no file of it may grow beyond so many. */
function pull(boardFile: string, archiveFile: string, batches: number, blocks?: number) {
  const command = [process.execPath, program, boardFile, archiveFile, String(batches)];
  if (blocks === undefined) return spawnSync(command[0]!, command.slice(1), { encoding: 'utf8' });
  const limited = ['-c', 'ulimit -f "$0"; exec "$@"', String(blocks), ...command, 'copy'];
  return spawnSync('bash', limited, { encoding: 'utf8' });
}

async function expectWhole(archiveFile: string, starts: number): Promise<void> {
  await using archive = await openArchive(archiveFile);
  const seqs = (await listOf(archive.records())).map(({ seq }) => seq);
  expect(seqs).toEqual(seqs.map((_, at) => at + 1));
  expect((await listOf(archive.records())).filter(({ type }) => type === 'started')).toHaveLength(starts);
}

// Neither kills nor limits of this kind are known there.
describe.skipIf(process.platform === 'win32')('a pull that is run again has everything once,', () => {
  it('after its program was killed outright between two batches', () =>
    withFolder(async (boardFile, archiveFile) => {
      expect(pull(boardFile, archiveFile, 0).signal).toBe('SIGKILL');
      expect(pull(boardFile, archiveFile, 1).signal).toBe('SIGKILL');
      expect(pull(boardFile, archiveFile, 99)).toMatchObject({ status: 0, stderr: '' });
      await expectWhole(archiveFile, STARTS + 3);
    }));

  it('after the disk took no more in the middle of it', () =>
    withFolder(async (boardFile, archiveFile) => {
      const full = pull(boardFile, archiveFile, 99, 40);
      expect(full.status).toBe(1);
      expect(full.stderr).toMatch(/ArchiveError: .*the disk .*board still has everything/);
      expect(pull(boardFile, archiveFile, 99)).toMatchObject({ status: 0, stderr: '' });
      await expectWhole(archiveFile, STARTS + 1);
    }));
});
