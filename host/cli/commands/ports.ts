import type { Command } from 'commander';
import { type AskedPort, askLikelyPorts } from '../../board/link/find-boards.js';
import { withTrace } from '../board-session.js';
import { examples, jsonOption, traceOption } from '../options.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface PortsOptions {
  readonly trace?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle ports', 'treadle ports --trace ports.txt'))
    .action(ports);
}

async function ports(options: PortsOptions): Promise<void> {
  const asked = await withTrace(options.trace, (observed) => askLikelyPorts(observed));
  if (options.json) printJson(asked.map(forScripts));
  else if (asked.length === 0)
    print("This computer has no serial port. 'treadle sim --pty' makes a simulated one.");
  else print(table([{ head: 'port' }, { head: 'what is there' }], asked.map(row)));
}

const LEFT_ALONE = 'left alone: not a board by its USB name; ask with --port';

function forScripts({ path, board, trouble }: AskedPort): object {
  return board ?? { path, trouble: trouble?.message ?? LEFT_ALONE };
}

function row({ path, board, trouble }: AskedPort): string[] {
  return [
    path,
    board ? `board ${board.boardId}, treadle ${board.firmwareVersion}` : (trouble?.message ?? LEFT_ALONE),
  ];
}
