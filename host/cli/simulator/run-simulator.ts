import { offerPort } from '../../board/sim/pty.js';
import { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { Hands } from './hands.js';
import { actsIn } from './keys.js';
import { DrawnScreen, ToldScreen } from './screen.js';

interface Wishes {
  readonly pty?: true;
  readonly speed: string;
  readonly storage?: string;
  readonly json?: true;
}

/** As the real board's line, so that what takes time on the wire takes it here. */
const BAUD = 115_200;
const FASTEST = 1000;

/** Runs a simulated board until its end is asked for: by key, by signal, or by the end of piped input. */
export async function runSimulator(wishes: Wishes): Promise<void> {
  const board = new SimulatedBoard({
    speed: speedOf(wishes.speed),
    baud: BAUD,
    ...(wishes.storage !== undefined && { file: wishes.storage }),
  });
  const port = wishes.pty ? await offerPort(board.plug()) : undefined;
  const note = port ? `simulated board at ${port.path}: give that to --port` : 'simulated board, no port';
  if (wishes.json) printJson({ port: port?.path ?? null, boardId: board.id });
  const drawn = process.stdout.isTTY && !wishes.json;
  if (!drawn && !wishes.json) remark(note);
  // A chip would be a drive now and wait for its image; a simulated one has what it needs.
  board.on('left', () => board.startNewFirmware());
  const screen = drawn ? new DrawnScreen(board, note) : wishes.json ? undefined : new ToldScreen(board);
  try {
    await untilTheEnd(new Hands(board), port !== undefined);
  } finally {
    screen?.close();
    port?.close();
    board.close();
  }
}

function speedOf(given: string): number {
  const speed = Number(given);
  if (speed > 0 && speed <= FASTEST) return speed;
  throw new UsageError(`--speed is '${given}': give a number above 0 and up to ${FASTEST}`);
}

/** Settles when the person is done. A port goes on being offered after piped input has ended. */
function untilTheEnd(hands: Hands, offersPort: boolean): Promise<void> {
  const { stdin } = process;
  return new Promise((resolve) => {
    const end = () => {
      if (stdin.isTTY) stdin.setRawMode(false);
      stdin.pause();
      resolve();
    };
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, end);
    if (stdin.isTTY) stdin.setRawMode(true);
    stdin.setEncoding('utf8');
    stdin.on('data', (input: string) => {
      for (const act of actsIn(input)) act === 'quit' ? end() : hands.act(act);
    });
    stdin.on('end', () => {
      if (!offersPort) end();
    });
  });
}
