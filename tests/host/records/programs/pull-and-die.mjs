// Run as a program of its own: pulls a board's log into an archive and is killed, as by a power cut of the laptop,
// after so many batches are on the disk. With 'copy' the board works on a copy of its file, in memory.
import { readFileSync } from 'node:fs';
import { collectIntoArchive, openArchive } from 'treadle/archive';
import { openBoard } from 'treadle/board';
import { Flash, SimulatedBoard } from 'treadle/sim';

const [boardFile, archiveFile, batches, copy] = process.argv.slice(2);

function openFlash() {
  if (copy !== 'copy') return new Flash({ file: boardFile });
  const flash = new Flash();
  flash.load(readFileSync(boardFile));
  return flash;
}

const board = new SimulatedBoard({ flash: openFlash(), speed: 1 });
const archive = await openArchive(archiveFile);
const opened = await openBoard(board.plug());
let left = Number(batches);
await collectIntoArchive(archive, opened, {
  onProgress: () => {
    if (left-- === 0) process.kill(process.pid, 'SIGKILL');
  },
});
await opened.close();
await archive.close();
board.close();
