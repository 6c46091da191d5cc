import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { Archive } from '../../host/archive/archive.js';
import { SimulatedBoard } from '../../host/sim/simulated-board.js';
import { projectRoot } from '../../shared-protocol/project.js';

const library = pathToFileURL(join(projectRoot, 'dist/host/index.js')).href;
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

describe('a pull in a program that is killed outright', () => {
  it.skipIf(process.platform === 'win32')(
    'loses nothing and doubles nothing when it is run again',
    async () => {
      const folder = mkdtempSync(join(tmpdir(), 'treadle-killed-'));
      try {
        const boardFile = join(folder, 'board.flash');
        const archiveFile = join(folder, 'archive.sqlite');
        makeBoard(boardFile);
        const run = (batches: number) =>
          spawnSync(process.execPath, [program, library, boardFile, archiveFile, String(batches)], {
            stdio: 'inherit',
          });
        expect(run(0).signal).toBe('SIGKILL');
        expect(run(1).signal).toBe('SIGKILL');
        expect(run(99).status).toBe(0);
        using archive = await Archive.open(archiveFile);
        const seqs = archive.records().map(({ seq }) => seq);
        const starts = archive.records().filter(({ type }) => type === 'started');
        expect(seqs).toEqual(seqs.map((_, at) => at + 1));
        expect(starts).toHaveLength(STARTS + 3);
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );
});
