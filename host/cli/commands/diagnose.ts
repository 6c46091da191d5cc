import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import { counted } from '../../figures.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { boardTroubles, laptopTroubles, type Trouble } from '../line-troubles.js';
import { examples, jsonOption, portOption } from '../options.js';
import { readCount } from '../read-options.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface DiagnoseOptions extends BoardOptions {
  readonly questions: string;
  readonly json?: true;
}

interface Counted extends Trouble {
  readonly side: 'laptop' | 'board';
  readonly count: number;
}

const MOST_QUESTIONS = 10_000;

export function define(command: Command): void {
  command
    .option('--questions <count>', 'ask the board so often first, to give trouble a chance to show', '50')
    .addOption(portOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle diagnose', 'treadle diagnose --questions 2000'))
    .action(diagnose);
}

async function diagnose(options: DiagnoseOptions): Promise<void> {
  const questions = readCount('--questions', options.questions, 0, MOST_QUESTIONS);
  const found = await withBoard(options, (board) => troublesOf(board, questions));
  if (options.json) printJson(found.map(({ side, name, count, advice }) => ({ side, name, count, advice })));
  else print(report(found, questions));
}

async function troublesOf(board: Board, questions: number): Promise<Counted[]> {
  for (let asked = 0; asked < questions; asked++) await board.status();
  const onBoard = await board.counters();
  const onLaptop = board.linkCounters;
  return [
    ...boardTroubles.map((trouble) => ({ ...trouble, side: 'board' as const, count: onBoard[trouble.name] })),
    ...laptopTroubles.map((trouble) => ({
      ...trouble,
      side: 'laptop' as const,
      count: onLaptop[trouble.name],
    })),
  ];
}

function report(found: readonly Counted[], questions: number): string {
  const counts = table(
    [{ head: 'side' }, { head: 'count', align: 'right' }, { head: 'what' }],
    found.map(({ side, count, meaning }) => [side, `${count}`, meaning]),
  );
  const troubled = found.filter(({ count }) => count > 0);
  const advice = troubled.map(({ side, meaning, advice }) => `${side}, ${meaning}:\n  ${advice}`);
  const verdict = `${counted(questions, 'question')} asked; the board counts since its power-up, this side since just now.`;
  const clean = troubled.every(({ harmless }) => harmless) ? ['The line is clean.'] : [];
  return [verdict, counts, ...advice, ...clean].join('\n\n');
}
