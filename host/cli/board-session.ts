import type { Board } from '../board/link/board.js';
import { openOnlyBoard } from '../board/link/find-boards.js';
import { type OpenBoardOptions, openBoard } from '../board/link/open-board.js';
import { stayConnected } from '../board/link/stay-connected.js';
import { remark } from './terminal/print.js';

export interface BoardOptions {
  readonly port?: string;
}

/** Opens the board that is meant, works with it, and lets go of its port whatever happens. */
export async function withBoard<Result>(
  { port }: BoardOptions,
  work: (board: Board) => Promise<Result>,
  opening: OpenBoardOptions = {},
): Promise<Result> {
  const board = await openMeant(port, opening);
  try {
    return await work(board);
  } finally {
    await board.close();
  }
}

/**
 * As `withBoard`, for work that may be begun again without harm: a board that is lost meanwhile is waited for, and
 * the person is told.
 */
export async function withBoardThroughLosses<Result>(
  { port }: BoardOptions,
  work: (board: Board) => Promise<Result>,
  opening: OpenBoardOptions = {},
): Promise<Result> {
  const board = await openMeant(port, opening);
  return stayConnected(board, board.path, work, {
    ...opening,
    onLost: ({ reason }) => remark(`Lost the board (${reason}); looking for it...`),
    onBack: ({ path }) => remark(`It is back at ${path}; beginning again.`),
  });
}

function openMeant(port: string | undefined, opening: OpenBoardOptions): Promise<Board> {
  return port === undefined ? openOnlyBoard(opening) : openBoard(port, opening);
}
