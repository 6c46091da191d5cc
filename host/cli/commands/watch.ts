import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import type { Notice } from '../../board/link/notices.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { noticeWords } from '../notice-words.js';
import { examples, jsonOption, portOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson } from '../terminal/print.js';

interface WatchOptions extends BoardOptions {
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle watch', 'treadle watch --json'))
    .action((options: WatchOptions) => withBoardThroughLosses(options, (board) => watch(board, options)));
}

/** Until the person ends it, which is how it is meant to end. */
async function watch(board: Board, options: WatchOptions): Promise<void> {
  const ended = new AbortController();
  // Not `once`: a signal that still has a listener does not kill, however late the port is closed.
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => ended.abort());
  for await (const notice of board.notices({ signal: ended.signal })) {
    if (options.json) printJson(forScripts(notice));
    else print(cleanText(noticeWords(notice)));
  }
}

function forScripts({ type, id: _id, ...fields }: Notice): object {
  return { event: type, ...fields };
}
