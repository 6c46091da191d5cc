import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import {
  adviceFor,
  type Checked,
  figuresOf,
  restartAdvice,
  type Step,
  stepNames,
  steps,
  stuckAdvice,
} from '../checkup-advice.js';
import { ExitCode } from '../exit-code.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
import { print, printJson, remark } from '../terminal/print.js';

interface CheckupOptions extends BoardOptions {
  readonly json?: true;
}

interface Found {
  readonly result: 'fine' | 'fault';
  readonly figures: string;
  readonly advice: string;
}

const UNTIL_STUCK_MS = 11_000;
/** Where the log is read from on, before its end, for why the board started anew. */
const LAST_ENTRIES = 8;
/** Of `started`: behind boot, number and time, in the order of the schema. */
const CAUSE_FIELD = 3;

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      `
The board is worked by its pedal and its knob; this only reads along, says what to do and what to look at.
No relay clicks before you have said at the board that the mains box is unplugged.
${examples('treadle checkup', 'treadle checkup --json')}`,
    )
    .action(checkup);
}

async function checkup(options: CheckupOptions): Promise<void> {
  const account = new Account(!options.json);
  await withBoardThroughLosses(options, (board, { restarted }) =>
    restarted ? account.explainStart(board) : account.follow(board),
  );
  if (options.json) printJson(account.forScripts());
  else print(account.verdict);
  if (!account.isFine) process.exitCode = ExitCode.failed;
}

/** What the board tells of its checkup, and what follows from it. */
class Account {
  readonly #found = new Map<Step, Found>();
  readonly #isTold: boolean;
  #cause: string | undefined;
  #next: Step = 'pedal';

  constructor(isTold: boolean) {
    this.#isTold = isTold;
  }

  /** Until the board is at rest again, or its pedal is taken for stuck. */
  async follow(board: Board): Promise<void> {
    if ((await board.status()).pedalStuck) {
      this.#note('pedal', { result: 'fault', figures: '', advice: stuckAdvice });
      return;
    }
    const ended = new AbortController();
    const notices = board.notices({ signal: ended.signal });
    // The board is asked to tell before it can be begun.
    const first = notices.next();
    await board.choose('checkup');
    this.#tell('At the board: tap the pedal to begin. (No pedal: push the knob.)');
    let isBegun = false;
    let cancel = () => {};
    for (let turn = await first; !turn.done; turn = await notices.next()) {
      const notice = turn.value;
      if (notice.type === 'checked') this.#take(notice);
      if (notice.type !== 'moved') continue;
      if (notice.state === 'asking' && !isBegun) {
        isBegun = true;
        this.#tellNext('pedal');
      }
      if (notice.state === 'stuck') {
        this.#note('pedal', { result: 'fault', figures: '', advice: stuckAdvice });
        ended.abort();
      }
      if (notice.state === 'rest' && isBegun) {
        // A pedal that stays down is first taken for a hold, and ten seconds later for stuck.
        if (this.#found.size === 0) cancel = board.clock.after(UNTIL_STUCK_MS, () => ended.abort());
        else {
          await notices.return();
          break;
        }
      }
    }
    cancel();
  }

  /** The board came back with another run: the log says why. */
  async explainStart(board: Board): Promise<void> {
    const { nextSeq } = await board.status();
    for await (const { records } of board.collect(Math.max(1, nextSeq - LAST_ENTRIES)))
      for (const { type, fields } of records) if (type === 'started') this.#cause = `${fields[CAUSE_FIELD]}`;
    const cause = this.#cause ?? 'not told';
    this.#note(this.#next, {
      result: 'fault',
      figures: `a new start (${cause})`,
      advice: restartAdvice(cause),
    });
  }

  #take(checked: Checked): void {
    const { step, isFine } = checked;
    this.#note(step, {
      result: isFine ? 'fine' : 'fault',
      figures: figuresOf(checked),
      advice: isFine ? '' : adviceFor(checked),
    });
    const next = stepNames[stepNames.indexOf(step) + 1];
    if (next !== undefined && (isFine || step !== 'unplugged')) this.#tellNext(next);
  }

  #note(step: Step, found: Found): void {
    this.#found.set(step, found);
    const figures = found.figures === '' ? '' : `, ${found.figures}`;
    this.#tell(`  ${steps[step].title}: ${found.result}${figures}`);
    if (found.advice !== '') this.#tell(`    ${found.advice}`);
  }

  #tellNext(step: Step): void {
    this.#next = step;
    this.#tell(`${steps[step].title[0]!.toUpperCase()}${steps[step].title.slice(1)}. ${steps[step].todo}`);
  }

  #tell(words: string): void {
    if (this.#isTold) print(words);
    else remark(words);
  }

  get #faults(): number {
    return [...this.#found.values()].filter(({ result }) => result === 'fault').length;
  }

  get isFine(): boolean {
    return this.#faults === 0 && this.#found.size === stepNames.length;
  }

  get verdict(): string {
    if (this.isFine) return 'All is well.';
    const missing = stepNames.filter((step) => !this.#found.has(step)).map((step) => steps[step].title);
    const left = missing.length === 0 ? '' : `; not checked: ${missing.join(', ')}`;
    return `${this.#faults === 1 ? '1 fault' : `${this.#faults} faults`}${left}.`;
  }

  forScripts(): object {
    return {
      isFine: this.isFine,
      steps: stepNames.map((step) => ({ step, ...(this.#found.get(step) ?? { result: 'not-checked' }) })),
      ...(this.#cause !== undefined && { startedBy: this.#cause }),
    };
  }
}
