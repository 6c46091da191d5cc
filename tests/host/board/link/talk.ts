import type { Board } from '../../../../host/board/link/board.js';
import { type OpenBoardOptions, openBoard } from '../../../../host/board/link/open-board.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { ScriptedPeer } from './scripted-peer.js';

export const EPOCH_MS = Date.UTC(2027, 2, 5, 20, 0, 0);

/** A laptop and a scripted peer on one virtual clock. */
export class Talk {
  readonly timeline = new Timeline();
  readonly peer = new ScriptedPeer();
  readonly clock = timelineClock(this.timeline, EPOCH_MS);

  /** Lets time pass until `work` is over. */
  over<Result>(work: Promise<Result>): Promise<Result> {
    return inVirtualTime(this.timeline, work);
  }

  open(options: OpenBoardOptions = {}): Promise<Board> {
    return this.over(openBoard(this.peer.laptop, { clock: this.clock, draw: () => 99, ...options }));
  }

  /** Lets so much time pass, whatever happens in it. */
  pass(ms: number): Promise<void> {
    return this.over(new Promise((resolve) => this.clock.after(ms, resolve)));
  }
}

export async function collect<Item>(items: AsyncIterable<Item>): Promise<Item[]> {
  const all: Item[] = [];
  for await (const item of items) all.push(item);
  return all;
}
