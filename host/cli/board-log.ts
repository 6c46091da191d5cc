import { nameOf } from '../board/link/find-boards.js';
import type { BoardRecipe } from '../recipe/index.js';
import type { Archive } from '../records/archive/archive.js';
import { type CollectReport, collectIntoArchive } from '../records/archive/collect-log.js';
import { collectRecipes } from '../records/recipes/collect-recipes.js';
import { type BoardOptions, withBoardThroughLosses } from './board-session.js';
import { progress } from './terminal/progress.js';

type Board = Parameters<typeof collectIntoArchive>[1];

export interface Collected {
  readonly report: CollectReport;
  readonly recipes: readonly BoardRecipe[];
}

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
      const report = await collectWithBar(archive, board);
      const name = await nameOf(board);
      if (name !== undefined) await archive.nameBoard(board.id, name);
      return { report, recipes: await collectRecipes(archive, board) };
    },
    { acceptOtherVersion: true },
  );
}

async function collectWithBar(archive: Archive, board: Board): Promise<CollectReport> {
  const bar = progress('entries');
  try {
    return await collectIntoArchive(archive, board, { onProgress: bar.to });
  } finally {
    bar.stop();
  }
}
