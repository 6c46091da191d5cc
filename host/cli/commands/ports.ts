import { type Command, Option } from 'commander';
import { type AskedPort, askLikelyPorts } from '../../board/link/find-boards.js';
import { noPortAdvice } from '../../board/link/no-port-advice.js';
import { boardWords } from '../../board-words.js';
import { withTrace } from '../board-session.js';
import { examples, jsonOption, traceOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { udevRule } from '../udev-rule.js';

interface PortsOptions {
  readonly trace?: string;
  readonly json?: true;
  readonly rule?: true;
}

export function define(command: Command): void {
  command
    .addOption(traceOption())
    .addOption(jsonOption())
    .addOption(
      new Option(
        '--rule',
        'print the udev rule for Linux, which keeps modem services off a board and says who may open it',
      ).conflicts(['json', 'trace']),
    )
    .addHelpText(
      'after',
      examples(
        'treadle ports',
        'treadle ports --trace ports.txt',
        'treadle ports --rule | sudo tee /etc/udev/rules.d/99-treadle.rules',
      ),
    )
    .action(ports);
}

async function ports(options: PortsOptions): Promise<void> {
  if (options.rule) return print(udevRule().trimEnd());
  const asked = await withTrace(options.trace, (observed) => askLikelyPorts(observed));
  if (options.json) printJson(asked.map(forScripts));
  else if (asked.length === 0) print(`This computer has no serial port: ${noPortAdvice()}.`);
  else {
    print(table([{ head: 'port' }, { head: 'what is there' }], asked.map(row)));
    for (const name of sharedNames(asked))
      remark(
        cleanText(
          `Several boards are called '${name}': name one by its id, or 'treadle settings name' gives it another name.`,
        ),
      );
  }
}

/** Capitals do not tell boards apart. */
function sharedNames(asked: readonly AskedPort[]): string[] {
  const names = asked.flatMap(({ board }) => (board === undefined || board.name === '' ? [] : board.name));
  const plain = names.map((name) => name.toLowerCase());
  return names.filter((_, at) => plain.indexOf(plain[at]!) === at && plain.lastIndexOf(plain[at]!) !== at);
}

const LEFT_ALONE = 'left alone: not a board by its USB name; ask with --port';

function forScripts({ path, board, trouble }: AskedPort): object {
  return board ?? { path, trouble: trouble?.message ?? LEFT_ALONE };
}

function row({ path, board, trouble }: AskedPort): string[] {
  return [
    path,
    board
      ? `board ${boardWords(board.boardId, board.name)}, treadle ${board.firmwareVersion}`
      : (trouble?.message ?? LEFT_ALONE),
  ];
}
