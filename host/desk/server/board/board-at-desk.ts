import { BoardLostError, NoBoardError } from '../../../board/errors.js';
import type { Board } from '../../../board/link/board.js';
import { nameOf } from '../../../board/link/find-boards.js';
import type { PortHolder } from '../../../board/link/link-options.js';
import type { Notice } from '../../../board/link/notices.js';
import { stayConnected } from '../../../board/link/stay-connected.js';
import { noticeWords } from '../../../board/words/notice-words.js';
import { type Clock, pause, systemClock } from '../../../clock.js';
import type { BoardNews, BoardNow } from './told.js';

/** Opens the board that is meant. */
export type OpenMeant = (signal: AbortSignal) => Promise<Board>;

export interface AtDeskOptions {
  readonly clock?: Clock;
  /** How long the port is kept once nobody looks at the board and nothing is done with it. */
  readonly letGoMs?: number;
}

/** As others are told of it that find the port busy. */
export const theDesk: PortHolder = { program: 'treadle desk', keepsIt: true };
/** Somebody looks at the board: that it says no more must show sooner than where a program alone waits for it. */
export const atDesk = { holder: theDesk, timing: { heartbeatMs: 2000 } } as const;
export const LET_GO_MS = 5000;
/** How long it takes until a board is looked for again. */
const AGAIN_MS = 2000;
const LET_GO = 'the desk let go of the board';
/** A piece of work begins again, when the board was lost in it, so often. */
const MOST_LOSSES = 5;

type Listener = (news: BoardNews) => void;

interface Waiting {
  resolve(board: Board): void;
  reject(error: Error): void;
}

/**
 * The board's port, kept for the desk while somebody looks at the board or something is done with it, and let go of soon
 * after, so that the commands find it free.
 */
export class BoardAtDesk {
  readonly #openMeant: OpenMeant;
  readonly #clock: Clock;
  readonly #letGoMs: number;
  readonly #listeners = new Set<Listener>();
  readonly #waiting = new Set<Waiting>();
  #users = 0;
  #cancelLettingGo = () => {};
  #keeping: { readonly ended: AbortController; readonly over: Promise<void> } | undefined;
  /** The port is let go of then: opened before that, it would be found busy. */
  #ending: Promise<void> = Promise.resolve();
  #isClosed = false;
  #board: Board | undefined;
  #now: BoardNow = { stands: 'looking' };
  /** What was told last of each row and of the lamp, for whoever begins to look. */
  #told: BoardNews[] = [];

  constructor(openMeant: OpenMeant, { clock = systemClock, letGoMs = LET_GO_MS }: AtDeskOptions = {}) {
    this.#openMeant = openMeant;
    this.#clock = clock;
    this.#letGoMs = letGoMs;
  }

  /** The board as it is, and then what happens, a line of JSON each, until the one who looks is gone. */
  async *news(gone: AbortSignal): AsyncGenerator<string, void, void> {
    const queue: BoardNews[] = [{ board: this.#now }, ...this.#told];
    let wake = () => {};
    const listener = (news: BoardNews) => {
      queue.push(news);
      wake();
    };
    const onGone = () => wake();
    gone.addEventListener('abort', onGone);
    this.#listeners.add(listener);
    this.#use();
    try {
      while (!gone.aborted) {
        const next = queue.shift();
        if (next !== undefined) yield `${JSON.stringify(next)}\n`;
        else
          await new Promise<void>((resolve) => {
            wake = resolve;
          });
      }
    } finally {
      gone.removeEventListener('abort', onGone);
      this.#listeners.delete(listener);
      this.#unuse();
    }
  }

  /** Works with the board; when it is lost in the middle, begins again as soon as it is back. */
  async with<Result>(work: (board: Board) => Promise<Result>): Promise<Result> {
    this.#use();
    try {
      for (let losses = 0; ; losses++) {
        const board = await this.#boardNow();
        try {
          return await work(board);
        } catch (error) {
          if (!(error instanceof BoardLostError) || losses === MOST_LOSSES) throw error;
          if (this.#board === board) this.#board = undefined;
        }
      }
    } finally {
      this.#unuse();
    }
  }

  /** Another has the port while `work` goes on: the desk lets go of it first, and looks for the board again after that. */
  lend<Result>(work: () => Promise<Result>): Promise<Result> {
    this.#cancelLettingGo();
    void this.#letGo();
    const lent = this.#ending.then(work);
    this.#ending = lent.then(
      () => {},
      () => {},
    );
    this.#stand({ stands: 'lost', words: 'The board is being worked with.' });
    if (this.#users > 0) this.#beginKeeping();
    return lent;
  }

  /** Tells those who look how far something is. */
  progress(what: string): (done: number, all: number) => void {
    return (done, all) => this.#say({ what, done, all });
  }

  /** Tells those who look that settings or baths are not what they were. */
  tellChange(): void {
    this.#say({ changed: 'what it keeps' });
  }

  tellName(name: string): void {
    if (this.#now.stands === 'there') this.#now = { ...this.#now, name };
    this.#say({ called: name });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#cancelLettingGo();
    await this.#letGo();
  }

  #use(): void {
    this.#cancelLettingGo();
    this.#users++;
    this.#beginKeeping();
  }

  #beginKeeping(): void {
    if (this.#isClosed || this.#keeping !== undefined) return;
    const ended = new AbortController();
    this.#keeping = { ended, over: this.#ending.then(() => this.#keep(ended.signal)) };
  }

  #unuse(): void {
    this.#users--;
    if (this.#users > 0) return;
    this.#cancelLettingGo = this.#clock.after(this.#letGoMs, () => void this.#letGo());
  }

  async #letGo(): Promise<void> {
    const keeping = this.#keeping;
    this.#keeping = undefined;
    // Whoever comes from here on waits for the port to be opened again, and is not given a board that is going.
    this.#board = undefined;
    keeping?.ended.abort();
    if (keeping !== undefined) this.#ending = keeping.over;
    await keeping?.over;
  }

  #boardNow(): Promise<Board> {
    if (this.#board !== undefined) return Promise.resolve(this.#board);
    if (this.#keeping === undefined) return Promise.reject(new NoBoardError(LET_GO));
    return new Promise((resolve, reject) => this.#waiting.add({ resolve, reject }));
  }

  /** Looks for the board as long as it is wanted, and follows it. */
  async #keep(signal: AbortSignal): Promise<void> {
    while (!signal.aborted) {
      try {
        this.#stand({ stands: 'looking' });
        await this.#stay(await this.#openMeant(signal), signal);
      } catch (error) {
        if (signal.aborted) break;
        this.#fail(error instanceof Error ? error : new Error(String(error)));
        await pause(this.#clock, AGAIN_MS, signal).catch(() => {});
      }
    }
    this.#board = undefined;
    // Whoever came meanwhile waits for the port to be opened again.
    if (this.#keeping === undefined) this.#refuse(new NoBoardError(LET_GO));
  }

  #stay(board: Board, signal: AbortSignal): Promise<void> {
    return stayConnected(board, board.path, (now) => this.#follow(now, signal), {
      ...atDesk,
      signal,
      onLost: (loss) => {
        this.#board = undefined;
        this.#stand({ stands: 'lost', words: loss.message });
      },
    });
  }

  async #follow(board: Board, signal: AbortSignal): Promise<void> {
    const name = (await nameOf(board)) ?? '';
    const { id, path, welcome } = board;
    this.#told = [];
    this.#board = board;
    this.#stand({ stands: 'there', id, name, path, version: welcome.firmwareVersion });
    for (const { resolve } of this.#waiting) resolve(board);
    this.#waiting.clear();
    const stop = board.onSilence((silentMs) => this.#say({ silentMs }));
    try {
      for await (const notice of board.notices({ signal })) this.#say(newsOf(notice));
    } finally {
      stop();
    }
  }

  #fail(error: Error): void {
    this.#board = undefined;
    this.#stand({ stands: 'none', words: error.message });
    this.#refuse(error);
  }

  #refuse(error: Error): void {
    for (const { reject } of this.#waiting) reject(error);
    this.#waiting.clear();
  }

  #stand(now: BoardNow): void {
    this.#now = now;
    this.#say({ board: now });
  }

  #say(news: BoardNews): void {
    if ('row' in news || 'lampIsOn' in news)
      this.#told = [...this.#told.filter((one) => subjectOf(one) !== subjectOf(news)), news];
    for (const listener of this.#listeners) listener(news);
  }
}

function subjectOf(news: BoardNews): string {
  return 'row' in news ? `row ${news.row}` : 'lamp';
}

function newsOf(notice: Notice): BoardNews {
  const words = noticeWords(notice);
  if (notice.type === 'shown') return { row: notice.row, text: notice.text };
  return notice.type === 'lamp' ? { lampIsOn: notice.on, words } : { words };
}
