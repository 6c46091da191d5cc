// Run as a program of its own: pulls a board's log into an archive and is killed, as by a power cut of the laptop,
// after so many batches are on the disk.
const [library, boardFile, archiveFile, batches] = process.argv.slice(2);
const { Archive, openBoard, pullIntoArchive, SimulatedBoard } = await import(library);
const board = new SimulatedBoard({ file: boardFile, speed: 1 });
const archive = await Archive.open(archiveFile);
const opened = await openBoard(board.plug());
let left = Number(batches);
await pullIntoArchive(archive, opened, {
  onProgress: () => {
    if (left-- === 0) process.kill(process.pid, 'SIGKILL');
  },
});
await opened.close();
archive.close();
board.close();
