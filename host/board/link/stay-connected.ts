import type { Duplex } from 'node:stream';
import { pause } from '../../clock.js';
import { TreadleError } from '../../errors.js';
import { BoardLostError } from '../errors.js';
import type { Board } from './board.js';
import { askPorts, type FindOptions } from './find-boards.js';
import { linkSetup } from './link-options.js';
import { openBoard } from './open-board.js';

/** How often a board may be lost in one piece of work before it is called lost for good. */
const MOST_LOSSES = 5;
const FIRST_GAP_MS = 250;
const LONGEST_GAP_MS = 2000;
/** How long a board that was lost is looked for, unless told otherwise. */
const LOOKING_MS = 15_000;

/** Where to find the board again: its port's path, or something that makes a fresh stream to it each time. */
export type Whereabouts = string | (() => Duplex | Promise<Duplex>);

/** `paths` are the ports to look at besides; left out, all that the operating system tells of. */
export interface StayOptions extends FindOptions {
  /** How long to look for a board that was lost; 0 does not look. */
  readonly lookingMs?: number;
  /** Told when the board is lost, and again when it is back. */
  readonly onLost?: (error: BoardLostError) => void;
  readonly onBack?: (board: Board) => void;
}

/** What a piece of work is told when it begins, and when it begins again. */
export interface Connection {
  /** The board started anew since the connection before: what was chosen or half sent is forgotten. */
  readonly restarted: boolean;
}

/**
 * Works with `board`, and when it is lost looks for the very same board, also where it comes back under another
 * port's name, and has `work` begin again: pulling and pushing may be done twice without harm. A board of another
 * identity is never taken for it. The board is closed in the end, whatever happens.
 * @throws BoardLostError when it does not come back in time; whatever `work` throws.
 */
export async function stayConnected<Result>(
  board: Board,
  whereabouts: Whereabouts,
  work: (board: Board, connection: Connection) => Promise<Result>,
  options: StayOptions = {},
): Promise<Result> {
  let current = board;
  let restarted = false;
  try {
    for (let losses = 0; ; losses++) {
      const came = await lossDuring(() => work(current, { restarted }));
      if ('result' in came) return came.result;
      if (losses === MOST_LOSSES || current.closed) throw came.loss;
      options.onLost?.(came.loss);
      const before = current;
      await before.close();
      current = await lookFor(before, came.loss, whereabouts, options);
      restarted = current.welcome.boot !== before.welcome.boot;
      options.onBack?.(current);
    }
  } finally {
    await current.close();
  }
}

async function lossDuring<Result>(
  work: () => Promise<Result>,
): Promise<{ readonly result: Result } | { readonly loss: BoardLostError }> {
  try {
    return { result: await work() };
  } catch (error) {
    if (error instanceof BoardLostError) return { loss: error };
    throw error;
  }
}

async function lookFor(
  before: Board,
  loss: BoardLostError,
  whereabouts: Whereabouts,
  options: StayOptions,
): Promise<Board> {
  const { clock } = linkSetup(options);
  const endMs = clock.nowMs() + (options.lookingMs ?? LOOKING_MS);
  for (
    let gapMs = FIRST_GAP_MS;
    clock.nowMs() + gapMs <= endMs;
    gapMs = Math.min(gapMs * 2, LONGEST_GAP_MS)
  ) {
    await pause(clock, gapMs, options.signal);
    const found = await tryOnce(before.id, whereabouts, options);
    if (found) return found;
  }
  throw loss;
}

/** The board of that identity, where it was or at another port; undefined when it is not to be had just now. */
async function tryOnce(
  id: string,
  whereabouts: Whereabouts,
  options: StayOptions,
): Promise<Board | undefined> {
  const there = await openThere(whereabouts, options);
  if (there?.id === id) return there;
  await there?.close();
  if (typeof whereabouts !== 'string') return undefined;
  const asked = await askPorts(options);
  const path = asked.find(({ board }) => board?.boardId === id)?.path;
  return path === undefined ? undefined : openThere(path, options);
}

async function openThere(whereabouts: Whereabouts, options: StayOptions): Promise<Board | undefined> {
  try {
    return await openBoard(typeof whereabouts === 'string' ? whereabouts : await whereabouts(), options);
  } catch (error) {
    // No port yet, not yet permitted, silent: all of it may pass. Anything else is a mistake to be told.
    if (error instanceof TreadleError && error.exitCode === 3) return undefined;
    throw error;
  }
}
