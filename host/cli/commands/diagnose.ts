import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import { counted, seconds } from '../../figures.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { boardTroubles, laptopTroubles, type Trouble } from '../line-troubles.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
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

interface Found {
  readonly asked: number;
  readonly tookMs: number;
  readonly counters: readonly Counted[];
}

const MOST_QUESTIONS = 10_000;
/** A board answers in some 15 ms; one that takes longer than this in all is not asked any further. */
const START_MS = 10_000;
const QUESTION_MS = 100;

export function define(command: Command): void {
  command
    .option('--questions <count>', 'questions to ask first; more of them show errors that are rare', '50')
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples('treadle diagnose', 'treadle diagnose --questions 2000', 'treadle diagnose --trace line.txt'),
    )
    .action(diagnose);
}

async function diagnose(options: DiagnoseOptions): Promise<void> {
  const questions = readCount('--questions', options.questions, 0, MOST_QUESTIONS);
  const found = await withBoard(options, (board) => askBoard(board, questions));
  if (options.json)
    printJson(found.counters.map(({ side, name, count, advice }) => ({ side, name, count, advice })));
  else print(report(found, questions));
}

/** Asks so many questions, or as many as there is time for, and tells what both sides counted. */
export async function askBoard(board: Board, questions: number): Promise<Found> {
  const startMs = board.clock.nowMs();
  const passedMs = () => board.clock.nowMs() - startMs;
  let asked = 0;
  for (; asked < questions && passedMs() < START_MS + questions * QUESTION_MS; asked++) await board.status();
  const tookMs = passedMs();
  const onBoard = await board.counters();
  const onLaptop = board.linkCounters;
  const counters = [
    ...boardTroubles.map((trouble) => ({ ...trouble, side: 'board' as const, count: onBoard[trouble.name] })),
    ...laptopTroubles.map((trouble) => ({
      ...trouble,
      side: 'laptop' as const,
      count: onLaptop[trouble.name],
    })),
  ];
  return { asked, tookMs, counters };
}

function report(found: Found, questions: number): string {
  const counts = table(
    [{ head: 'side' }, { head: 'count', align: 'right' }, { head: 'what' }],
    found.counters.map(({ side, count, meaning }) => [side, `${count}`, meaning]),
  );
  const troubled = found.counters.filter(({ count }) => count > 0);
  const advice = troubled.map(({ side, meaning, advice }) => `${side}, ${meaning}:\n  ${advice}`);
  return [askedWords(found, questions), counts, ...advice, verdict(found, questions)].join('\n\n');
}

function askedWords({ asked, tookMs }: Found, questions: number): string {
  const all = `${counted(asked, 'question')} asked; the board counts since its power-up, this side since just now.`;
  if (asked === questions) return all;
  const each = seconds(Math.round(tookMs / Math.max(asked, 1)));
  return `${all}\nThat took ${seconds(Math.round(tookMs))}, ${each} a question, so the other ${questions - asked} were not asked.`;
}

function verdict({ asked, counters }: Found, questions: number): string {
  const clean = counters.every(({ count, harmless }) => count === 0 || harmless) && asked === questions;
  return clean
    ? 'The line is clean.'
    : "Any command's '--trace FILE' writes down each line, and what was thrown away and why.";
}
