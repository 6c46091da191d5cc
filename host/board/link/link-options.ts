import { type Clock, systemClock } from '../../clock.js';
import type { LineObserver } from './line-observer.js';

/** How long and how often; all with sensible values of their own. */
export interface LinkTiming {
  /** Silence after which a request is sent again. */
  readonly answerMs: number;
  /** How often the same line is sent again before the board counts as lost. */
  readonly repeats: number;
  /** The longest that one request may take in all, whatever else is heard meanwhile. */
  readonly longestMs: number;
  /** A busy board is asked again after this, so often. */
  readonly busyMs: number;
  readonly busyRetries: number;
  /** How long to go on saying hello to a board that may be starting, and the first and longest gaps. */
  readonly helloMs: number;
  readonly helloFirstGapMs: number;
  readonly helloLongestGapMs: number;
  /** After so long without a word from this side the board is asked whether it is there. */
  readonly heartbeatMs: number;
}

export const defaultTiming: LinkTiming = {
  answerMs: 1000,
  repeats: 3,
  longestMs: 15_000,
  busyMs: 250,
  busyRetries: 12,
  helloMs: 5000,
  helloFirstGapMs: 250,
  helloLongestGapMs: 1000,
  heartbeatMs: 5000,
};

/** Who has a port, for others that find it busy. */
export interface PortHolder {
  /** What the person began: 'treadle collect'. */
  readonly program: string;
  /** It keeps the port until it is ended; others are done by themselves. */
  readonly keepsIt?: boolean;
}

export interface NotedHolder extends PortHolder {
  readonly pid: number;
}

/** For a port that another command has and will be done with. */
export interface Patience {
  readonly mostMs: number;
  /** Told once, in words for a person, where it comes to waiting. */
  readonly onWait: (words: string) => void;
}

/** Draws a whole number from 0 up to, and without, `below`. */
export type Draw = (below: number) => number;

export interface LinkOptions {
  readonly clock?: Clock;
  readonly timing?: Partial<LinkTiming>;
  /** Where the first request's number comes from; tests hand in a fixed one. */
  readonly draw?: Draw;
  /** Told of every line in and out, and of what was thrown away. */
  readonly observe?: LineObserver;
}

export interface LinkSetup {
  readonly clock: Clock;
  readonly timing: LinkTiming;
  readonly draw: Draw;
}

export function linkSetup(options: LinkOptions): LinkSetup {
  return {
    clock: options.clock ?? systemClock,
    timing: { ...defaultTiming, ...options.timing },
    draw: options.draw ?? ((below) => Math.floor(Math.random() * below)),
  };
}
