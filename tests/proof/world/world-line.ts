import type { Board } from '../../../host/board/link/board.js';
import type { OpenBoardOptions } from '../../../host/board/link/open-board.js';
import type { Climate, FaultKind } from './faults.js';

/** What the line of a world needs of it. */
export interface LineSetup {
  readonly climate: Climate;
  /** Called with what the board says, before anything happens to it on the way. */
  readonly hear: (bytes: Buffer) => void;
  /** A conversation begins: what was left of a line before will not be ended. */
  readonly beginsAnew: () => void;
}

/** The way between board and laptop, with its accidents. */
export interface WorldLine {
  /** Accidents on it so far, by kind. */
  readonly accidents: Readonly<Record<string, number>>;
  /** A program looks for the board and opens it. */
  open(options: OpenBoardOptions): Promise<Board>;
  /** The program has ended, wherever it was. */
  programEnds(): void;
  /** Strikes, if a fault is one of the line's. */
  strike(kind: FaultKind): boolean;
  /** No accidents any more, and the cable is in. */
  makeWell(): void;
}
