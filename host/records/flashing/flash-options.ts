import type { Welcome } from '../../board/link/handshake.js';
import type { OpenBoardOptions } from '../../board/link/open-board.js';

export interface FlashOptions {
  /** The board's port or name; the only one there is where it is left out. */
  readonly port?: string;
  /** The archive's file, where the log is saved first. */
  readonly archive?: string;
  /** The drive's own folder, where it is not found by itself. */
  readonly drive?: string;
  /** Asks no board: one waits already, or will, by the button on it. */
  readonly bootButton?: true;
  /** The image may be older than what the board has. */
  readonly older?: true;
  /** How the board's port is opened: what is told of the line, and to other programs. */
  readonly opening?: Pick<OpenBoardOptions, 'observe' | 'holder' | 'patience'>;
}

/** How the person is told, step by step. */
export interface FlashTelling {
  say(words: string): void;
  /** Something longer begins, counted in these. */
  progress(what: 'entries' | 'bytes'): { to(done: number, all: number): void; stop(): void };
}

/** The board as it was, and what was saved of it. */
export interface Before {
  readonly welcome: Welcome;
  readonly path: string;
  readonly newRecords: number;
  readonly archive: string;
}

/** The board as it came back, and as it was; undefined where it was not spoken to. */
export interface Flashed {
  readonly now: Welcome;
  readonly before: Before | undefined;
}
