import type { Page } from 'playwright-core';

/** A screen of a golden evening: what was done, and the four rows after it. */
export interface GoldenScreen {
  readonly act: string;
  readonly rows: readonly string[];
}

export function readGolden(text: string): GoldenScreen[] {
  return text.split('\n\n').map((block) => {
    const [act, , ...framed] = block.trimEnd().split('\n');
    return { act: act!, rows: framed.slice(0, 4).map((row) => row.slice(1, -1).trimEnd()) };
  });
}

/** As the evening on the bench was played: tests/firmware/core/evening/page.ts, and controls.ts for the foot. */
const TAP_MS = 120;
const HOLD_MS = 900;
const SETTLE_MS = 60;
const CLICK_MS = 130;
const LOOK_MS = 300;

/** Foot and hand by real key events, on a clock of the page that goes on only when told. */
export class Keys {
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  /** Carries out what a golden screen says was done; `seconds` are waited for beside. */
  async act(what: string, seconds = 0): Promise<void> {
    const [verb] = what.split(/[: ]/);
    if (what.startsWith('hold the knob')) await this.#press('Enter', HOLD_MS);
    else if (verb === 'tap') await this.#press('Space', TAP_MS);
    else if (verb === 'hold') await this.#press('Space', HOLD_MS);
    else if (verb === 'push') await this.#press('Enter', TAP_MS);
    else if (verb === 'turn') await this.#turn(Number(what.slice('turn '.length)));
    else await this.#wait(1000 * Number.parseFloat(what));
    await this.#wait(1000 * seconds + LOOK_MS);
  }

  /** Waits as a browser does that had something else to do: what falls due meanwhile is told once, at the end. */
  async leap(seconds: number): Promise<void> {
    await this.#page.clock.fastForward(1000 * seconds);
    await this.#wait(LOOK_MS);
  }

  async #press(key: string, heldMs: number): Promise<void> {
    await this.#page.keyboard.down(key);
    // A held key says so again and again, and is held all the same.
    await this.#page.keyboard.down(key);
    await this.#wait(heldMs);
    await this.#page.keyboard.up(key);
    await this.#wait(SETTLE_MS);
  }

  async #turn(clicks: number): Promise<void> {
    for (let click = 0; click < Math.abs(clicks); click++) {
      await this.#page.keyboard.press(clicks > 0 ? 'ArrowRight' : 'ArrowLeft');
      await this.#wait(CLICK_MS);
    }
  }

  #wait(ms: number): Promise<void> {
    return this.#page.clock.runFor(ms);
  }
}
