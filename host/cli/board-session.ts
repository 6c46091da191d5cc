import type { Board } from '../link/board.js';
import { openOnlyBoard } from '../link/find-boards.js';
import { type OpenBoardOptions, openBoard } from '../link/open-board.js';

export interface BoardOptions {
  readonly port?: string;
}

/** Opens the board that is meant, works with it, and lets go of its port whatever happens. */
export async function withBoard<Result>(
  { port }: BoardOptions,
  work: (board: Board) => Promise<Result>,
  opening: OpenBoardOptions = {},
): Promise<Result> {
  const board = port === undefined ? await openOnlyBoard(opening) : await openBoard(port, opening);
  try {
    return await work(board);
  } finally {
    await board.close();
  }
}
