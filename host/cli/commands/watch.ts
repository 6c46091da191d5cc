import type { Command } from 'commander';
import type { Board } from '../../link/board.js';
import type { Notice } from '../../link/notices.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { examples, jsonOption, portOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { duration, seconds } from '../terminal/figures.js';
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
    else print(cleanText(words(notice)));
  }
}

function forScripts({ type, id: _id, ...fields }: Notice): object {
  return { event: type, ...fields };
}

function words(notice: Notice): string {
  switch (notice.type) {
    case 'lamp':
      return `${duration(notice.uptimeMs)}  lamp ${notice.on ? 'on' : `off after ${seconds(notice.onUs / 1000)}`}`;
    case 'moved':
      return `${duration(notice.uptimeMs)}  ${movedWords(notice)}`;
    case 'shown':
      return `         row ${notice.row + 1} |${notice.text}|`;
  }
}

function movedWords({ state, pass, label, remainingMs }: Extract<Notice, { type: 'moved' }>): string {
  const where = pass > 0 ? `, pass ${pass}` : '';
  const what = label === '' ? '' : ` ${label}`;
  const rest = remainingMs > 0 ? `, ${seconds(remainingMs)} to give` : '';
  return `${state}${where}${what}${rest}`;
}
