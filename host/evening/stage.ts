import { setTimeout as sleep } from 'node:timers/promises';
import type { BoardHome } from '../board/sim/board-home.js';
import { holdPedal, tapPedal } from '../board/sim/controls.js';

/** One thing that the foot did, and what came of it. */
export interface Step {
  /** Since the evening began, when the foot was done. */
  readonly atMs: number;
  readonly foot: 'tap' | 'hold';
  readonly why: string;
  /** How long the lamp was on from this step to the next, pulse by pulse. */
  readonly lampMs: readonly number[];
  /** What the display's first row then said the next press would do. */
  readonly prompt: string;
}

const HOLD_MS = 900;
const LOOK_MS = 100;
/** No exposure of the evening comes near this, and no bath. */
const LONGEST_WAIT_MS = 600_000;
/** The board's time that goes by while the laptop's real serial port is at work, for each real millisecond. */
const SHARE_MS = 2;

/** A board with a foot on its pedal and an eye on its display; every step is noted. */
export class Stage {
  readonly home: BoardHome;
  readonly #steps: Omit<Step, 'lampMs'>[] = [];
  readonly #edgesBefore: number[] = [];

  constructor(home: BoardHome) {
    this.home = home;
  }

  tap(why: string): void {
    const before = this.home.lampEdges.length;
    tapPedal(this.home);
    this.#note('tap', why, before);
  }

  hold(why: string): void {
    const before = this.home.lampEdges.length;
    holdPedal(this.home, HOLD_MS);
    this.#note('hold', why, before);
  }

  wait(ms: number): void {
    this.home.advanceUs(ms * 1000);
  }

  /** Waits until the lamp has gone out by itself, and a moment longer. */
  waitForDark(): void {
    this.waitFor(() => !this.home.lampOn);
    this.wait(1000);
  }

  /**
   * Looks ten times a second whether it is so; gives up after the longest time that anything takes. Then one look
   * more: a display takes some milliseconds for its rows, and half-written ones say nothing.
   */
  waitFor(isSo: () => boolean): void {
    for (let waitedMs = 0; !isSo() && waitedMs < LONGEST_WAIT_MS; waitedMs += LOOK_MS) this.wait(LOOK_MS);
    this.wait(LOOK_MS);
  }

  /** The display's first row. */
  get prompt(): string {
    return this.row(0);
  }

  /** Row 0 to 3 of the display. */
  row(index: number): string {
    return this.home.panel[index]!.trimEnd();
  }

  /** Lets the board's time go by while the laptop works; the serial port and the disk are real. */
  async during<Result>(work: Promise<Result>): Promise<Result> {
    let working = true;
    const ended = () => {
      working = false;
    };
    work.then(ended, ended);
    while (working) {
      this.wait(SHARE_MS);
      await sleep(1);
    }
    return work;
  }

  /** Everything done so far, each with the light that followed it. */
  steps(): Step[] {
    return this.#steps.map((step, at) => ({
      ...step,
      lampMs: this.#pulses(this.#edgesBefore[at]!, this.#edgesBefore[at + 1]),
    }));
  }

  #note(foot: Step['foot'], why: string, edgesBefore: number): void {
    this.#edgesBefore.push(edgesBefore);
    this.#steps.push({ atMs: Math.round(this.home.nowUs / 1000), foot, why, prompt: this.prompt });
  }

  /** A pulse belongs to the step that lit it. */
  #pulses(from: number, to = this.home.lampEdges.length): number[] {
    const edges = this.home.lampEdges;
    const pulses: number[] = [];
    for (let at = from; at < to; at++) {
      const off = edges[at + 1];
      if (edges[at]!.on && off) pulses.push((off.atUs - edges[at]!.atUs) / 1000);
    }
    return pulses;
  }
}
