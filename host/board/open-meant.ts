import { existsSync } from 'node:fs';
import { looksLikePort } from './board-name.js';
import type { Board } from './link/board.js';
import { openOnlyBoard, portOfBoard } from './link/find-boards.js';
import { type OpenBoardOptions, openBoard } from './link/open-board.js';

/** Opens the board at that port, or of that name or id, or the only one there is. */
export async function openMeant(port: string | undefined, opening: OpenBoardOptions): Promise<Board> {
  if (port === undefined) return await openOnlyBoard(opening);
  return await openBoard(isPort(port) ? port : await portOfBoard(port, opening), opening);
}

/** Everything else is what a board is called: a name of one never looks like this (see `readBoardName`). */
function isPort(text: string): boolean {
  return looksLikePort(text) || existsSync(text);
}
