import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type OfferedPort, offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { type Ran, treadle } from './treadle.js';

const HOLD_US = 1_500_000;

/** A simulated board in this process, at a port that the command line opens from a process of its own. */
export class BoardAtAPort {
  readonly board: SimulatedBoard;
  readonly #port: OfferedPort;
  readonly folder: string;

  private constructor(board: SimulatedBoard, port: OfferedPort, folder: string) {
    this.board = board;
    this.#port = port;
    this.folder = folder;
  }

  static async start(boardId?: string): Promise<BoardAtAPort> {
    const board = new SimulatedBoard({ speed: 20, ...(boardId !== undefined && { boardId }) });
    const port = await offerPort(board.plug());
    return new BoardAtAPort(board, port, mkdtempSync(join(tmpdir(), 'treadle-test-')));
  }

  get path(): string {
    return this.#port.path;
  }

  get archive(): string {
    return this.file('archive.sqlite');
  }

  /** A file of this test's own. */
  file(name: string): string {
    return join(this.folder, name);
  }

  /** `treadle` with this board's port. */
  treadle(...words: string[]): Promise<Ran> {
    return treadle([...words, '--port', this.path]);
  }

  /** As `treadle`, for commands that keep or read records. */
  treadleWithArchive(...words: string[]): Promise<Ran> {
    return this.treadle(...words, '--archive', this.archive);
  }

  /** Works the pedal, which lights the lamp to focus by every now and then, until the answer is called. */
  holdThePedalOverAndOver(): () => void {
    let cancel = () => {};
    const soon = (run: () => void) => {
      cancel = this.board.timeline.at(this.board.nowUs + HOLD_US, run);
    };
    const press = () => {
      this.board.pedal(true);
      soon(release);
    };
    const release = () => {
      this.board.pedal(false);
      soon(press);
    };
    press();
    return () => {
      cancel();
      this.board.pedal(false);
    };
  }

  close(): void {
    this.#port.close();
    this.board.close();
    rmSync(this.folder, { recursive: true });
  }
}
