import type { Board } from '../../../host/board/link/board.js';

/** Everything that the board's log brings, as one value. */
export async function collectLog(board: Board): Promise<unknown> {
  const all: unknown[] = [];
  for await (const { records, holes } of board.collect(1)) all.push(...records, ...holes);
  return all;
}
