import type { Board } from '../board/link/board.js';
import type { Archive } from '../records/archive/archive.js';
import { type Collected, collectEverything } from '../records/recipes/collect-everything.js';
import { type BoardOptions, withBoardThroughLosses } from './board-session.js';
import { progress } from './terminal/progress.js';

/** What the board logged and keeps goes into the archive, whatever its version, and however often it is lost meanwhile. */
export function collectAll(
  archive: Archive,
  options: BoardOptions,
  then: (board: Board) => void = () => {},
): Promise<Collected> {
  return withBoardThroughLosses(
    options,
    async (board) => {
      then(board);
      const bar = progress('entries');
      try {
        return await collectEverything(archive, board, bar.to);
      } finally {
        bar.stop();
      }
    },
    { acceptOtherVersion: true },
  );
}
