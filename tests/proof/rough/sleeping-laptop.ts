/**
 * A laptop falls asleep in the middle of a collect and wakes hours later: the program is stopped and let go on, while the
 * board runs on, starts anew, or is unplugged. It then goes on or says what to do, and every entry is there once in the end.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { Flash } from '../../../host/board/sim/flash.js';
import { type OfferedPort, offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { filledFlash } from '../bench/log-over-noise.js';
import { dumpArchive } from './archive-dump.js';

const ENTRIES = 4000;
const HOURS_US = 6 * 3_600_000_000;
/** So much of the archive is there when the lid is closed. */
const STOPPED_AT_BYTES = [60_000, 150_000, 300_000];
const LOOK_MS = 2;

const meanwhiles: Readonly<Record<string, (desk: DeskOfSleeper) => void>> = {
  'the board runs on': ({ board }) => board.advanceUs(HOURS_US),
  'the board starts anew': ({ board }) => {
    board.advanceUs(HOURS_US);
    board.reset('watchdog');
  },
  'the power goes': ({ board }) => {
    board.cutPower();
    board.advanceUs(HOURS_US);
    board.restorePower();
  },
  'the board is unplugged': (desk) => desk.unplug(),
};

/** Answers how much was found wrong. */
export async function sleepingLaptop(tell: (words: string) => void): Promise<number> {
  const image = await filledFlash(ENTRIES);
  let wrong = 0;
  for (const [what, meanwhile] of Object.entries(meanwhiles))
    for (const bytes of STOPPED_AT_BYTES) {
      const desk = await DeskOfSleeper.with(image);
      const found = await desk.sleep(bytes, meanwhile);
      desk.end();
      wrong += found.wrong.length;
      tell(`${what}, stopped at ${bytes} bytes: ${[found.first, ...found.wrong].join('; ')}`);
    }
  return wrong;
}

interface Ended {
  readonly code: number | null;
  readonly err: string;
}

class DeskOfSleeper {
  readonly board: SimulatedBoard;
  readonly #folder = mkdtempSync(join(tmpdir(), 'treadle-sleep-'));
  readonly #archive = join(this.#folder, 'archive.sqlite');
  #port: OfferedPort;
  #isPlugged = true;

  private constructor(board: SimulatedBoard, port: OfferedPort) {
    this.board = board;
    this.#port = port;
  }

  static async with(image: Uint8Array): Promise<DeskOfSleeper> {
    const flash = new Flash();
    flash.load(image);
    const board = new SimulatedBoard({ flash, speed: 1 });
    return new DeskOfSleeper(board, await offerPort(board.plug()));
  }

  unplug(): void {
    if (this.#isPlugged) this.#port.close();
    this.#isPlugged = false;
  }

  async #plugIn(): Promise<void> {
    this.unplug();
    this.#port = await offerPort(this.board.plug());
    this.#isPlugged = true;
  }

  async sleep(
    bytes: number,
    meanwhile: (desk: DeskOfSleeper) => void,
  ): Promise<{ readonly first: string; readonly wrong: string[] }> {
    const { ended, child } = this.#collect();
    while (child.exitCode === null && this.#archived < bytes) await wait(LOOK_MS);
    if (child.exitCode !== null) return { first: 'was over before it was stopped', wrong: [] };
    child.kill('SIGSTOP');
    meanwhile(this);
    child.kill('SIGCONT');
    const first = await ended;
    const wrong: string[] = [];
    if (first.code !== 0 && (first.code !== 3 || /^ +at |should not have/m.test(first.err)))
      wrong.push(`ended with ${first.code}: ${first.err}`);
    await this.#plugIn();
    const again = await this.#collect().ended;
    if (again.code !== 0) wrong.push(`collected again it ends with ${again.code}: ${again.err}`);
    return {
      first: first.code === 0 ? 'went on' : `said: ${first.err.trim()}`,
      wrong: [...wrong, ...this.#lacking()],
    };
  }

  get #archived(): number {
    return statSync(this.#archive, { throwIfNoEntry: false })?.size ?? 0;
  }

  /** Every number from the first to the last, once. */
  #lacking(): string[] {
    const rows = dumpArchive(this.#archive).filter((row) => row.startsWith('record '));
    const seqs = rows
      .map((row) => JSON.parse(row.slice('record '.length))[3] as number)
      .sort((one, other) => one - other);
    if (seqs.length < ENTRIES) return [`${seqs.length} of ${ENTRIES} entries are there`];
    return seqs.every((seq, at) => seq === at + 1) ? [] : ['a number lacks, or is there twice'];
  }

  #collect() {
    const child = spawn(process.execPath, [join(projectRoot, 'dist/library/js/main.js'), 'collect'], {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, NO_COLOR: '1', TREADLE_ARCHIVE: this.#archive, TREADLE_PORT: this.#port.path },
    });
    let err = '';
    child.stderr.setEncoding('utf8').on('data', (text) => {
      err += text;
    });
    const ended = new Promise<Ended>((resolve) => child.on('close', (code) => resolve({ code, err })));
    return { child, ended };
  }

  end(): void {
    this.unplug();
    this.board.close();
    rmSync(this.#folder, { recursive: true });
  }
}
