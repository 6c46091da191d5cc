import type { Board } from '../board/link/board.js';
import type { LineObserver } from '../board/link/line-observer.js';
import type { OpenBoardOptions } from '../board/link/open-board.js';
import { type Connection, stayConnected } from '../board/link/stay-connected.js';
import { openMeant } from '../board/open-meant.js';
import { namingOption } from './naming-option.js';
import { runningCommand } from './running-command.js';
import { remark } from './terminal/print.js';
import { TraceFile } from './trace-file.js';

export interface BoardOptions {
  readonly port?: string;
  readonly trace?: string;
}

/** Most of what commands do at a board takes no longer. */
const PATIENCE_MS = 10_000;

/** How a command opens ports: it is told to others as what it is, and waits for another that is soon done. */
export function atPorts(isUntilEnded = false) {
  return {
    holder: { program: runningCommand(), keepsIt: isUntilEnded },
    patience: { mostMs: PATIENCE_MS, onWait: remark },
  } satisfies OpenBoardOptions;
}

/** Opens the board that is meant, works with it, and lets go of its port whatever happens. */
export function withBoard<Result>(
  { port, trace }: BoardOptions,
  work: (board: Board) => Promise<Result>,
  opening: OpenBoardOptions = {},
): Promise<Result> {
  return withTrace(trace, async (observed) => {
    const board = await openMeant(port, { ...atPorts(), ...opening, ...observed });
    try {
      return await work(board);
    } finally {
      await board.close();
    }
  });
}

/**
 * As `withBoard`, for work that may be begun again without harm: a board that is lost meanwhile is waited for, and
 * the person is told.
 */
export function withBoardThroughLosses<Result>(
  { port, trace }: BoardOptions,
  work: (board: Board, connection: Connection) => Promise<Result>,
  opening: OpenBoardOptions = {},
): Promise<Result> {
  return withTrace(trace, async (observed) => {
    const options = { ...atPorts(), ...opening, ...observed };
    const board = await openMeant(port, options);
    return stayConnected(board, board.path, work, {
      ...options,
      onLost: ({ reason }) => remark(`Lost the board (${reason}); looking for it...`),
      onBack: ({ path }) => remark(`It is back at ${path}; beginning again.`),
    });
  });
}

/** Work whose talk with boards is written down, where a file was named for it. */
export async function withTrace<Result>(
  path: string | undefined,
  work: (observed: { observe?: LineObserver }) => Promise<Result>,
): Promise<Result> {
  if (path === undefined) return work({});
  const trace = await namingOption('--trace', async () => new TraceFile(path));
  try {
    return await work({ observe: trace.observe });
  } finally {
    trace.close();
  }
}
