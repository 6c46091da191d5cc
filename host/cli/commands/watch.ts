import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import { nameOf } from '../../board/link/find-boards.js';
import type { Notice } from '../../board/link/notices.js';
import { noticeWords } from '../../board/words/notice-words.js';
import { boardWords } from '../../board-words.js';
import { counted } from '../../figures.js';
import { jsonText } from '../../json-text.js';
import { atPorts, type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { remark } from '../terminal/print.js';
import { endDespiteReader, printAndWait } from '../terminal/waiting-print.js';

interface WatchOptions extends BoardOptions {
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle watch', 'treadle watch --json'))
    .action(watchUntilEnded);
}

/** Until the person ends it, which is how it is meant to end. */
async function watchUntilEnded(options: WatchOptions): Promise<void> {
  const ended = new AbortController();
  // Not `once`: a signal that still has a listener does not kill, however late the port is closed.
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => ended.abort());
  const { signal } = ended;
  try {
    await withBoardThroughLosses(options, (board) => watch(board, options, signal), {
      ...atPorts(true),
      signal,
    });
  } catch (error) {
    if (!signal.aborted || error !== signal.reason) throw error;
  }
  if (signal.aborted) await endDespiteReader();
}

/** A reader that is slower than the board is waited for; what the queue drops meanwhile is told. */
async function watch(board: Board, { json }: WatchOptions, signal: AbortSignal): Promise<void> {
  let dropped = 0;
  const name = (await nameOf(board)) ?? '';
  if (name !== '') remark(cleanText(`Watching board ${boardWords(board.id, name)}.`));
  for await (const notice of board.notices({ signal })) {
    const droppedNow = board.linkCounters.noticesDropped;
    if (droppedNow > dropped) await printAndWait(droppedLine(droppedNow - dropped, json), signal);
    dropped = droppedNow;
    await printAndWait(json ? jsonText(forScripts(notice)) : cleanText(noticeWords(notice)), signal);
    if (signal.aborted) return;
  }
}

function droppedLine(count: number, json?: true): string {
  if (json) return jsonText({ event: 'dropped', count });
  return `         ${counted(count, 'event')} not shown: they came faster than they were read`;
}

function forScripts({ type, id: _id, ...fields }: Notice): object {
  return { event: type, ...fields };
}
