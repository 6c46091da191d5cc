/** A printer at a simulated board who turns the knob, is disturbed, gives up, and whose power fails; and what the lamp did. */
import { holdPedal, pushKnob, tapPedal } from '../../../../host/board/sim/controls.js';
import { LampTrace, lampFromLagAndRise } from '../../../../host/darkroom/light/lamp.js';
import { toBoardRecipe } from '../../../../host/recipe/index.js';
import type { Recipe } from '../../../../host/recipe/recipe.js';
import type { StripSettings } from '../../../../host/recipe/strip-file.js';
import type { ExposureEntry } from '../../../../host/records/log/log-entry.js';
import { LaptopAndBoard } from '../../board/link/laptop.js';

export const lamp = { lagMs: 120, riseMs: 90 };
const LOOK_US = 100_000;
const HOLD_MS = 900;
const MOST_TAPS = 60;

/** One time that the lamp was on. */
export interface Pulse {
  readonly fromUs: number;
  readonly onUs: number;
}

/** What happens while a sheet is printed. */
export interface Disturbances {
  /** So long after the sheet was begun, in seconds of the board; undefined is never. */
  readonly powerFailsAfterS?: number | undefined;
  readonly givesUpAfterS?: number | undefined;
  /** Nothing more is done after the light that it falls into. */
  readonly leavesAfterS?: number | undefined;
  readonly pausesAfterS?: number | undefined;
  /** Pushes of the knob before the light, and where it is turned then. */
  readonly pushes?: number;
  readonly clicks?: number;
}

export class Printer {
  readonly pair = new LaptopAndBoard();
  /** When the power went in each run; the first has number 1. */
  readonly powerWentUs: number[] = [];
  readonly #edges: { atUs: number; on: boolean }[] = [];

  get #board() {
    return this.pair.board;
  }

  async setUp(recipes: readonly Recipe[]): Promise<void> {
    this.#wait(1_000_000);
    await this.pair.with(async (board) => {
      await board.setSetting('lamp-lag-ms', lamp.lagMs);
      await board.setSetting('lamp-rise-ms', lamp.riseMs);
      for (const recipe of recipes) await board.sendRecipe(toBoardRecipe(recipe));
    });
  }

  /** Prints a sheet by a recipe: taps until it is done, or something comes between. */
  async print(name: string, disturbances: Disturbances = {}): Promise<void> {
    await this.pair.with((board) => board.choose('recipe', name));
    await this.printInUse(disturbances);
  }

  /** The same by what the board has in its hands. */
  async printInUse(disturbances: Disturbances = {}): Promise<void> {
    let sinceUs = 0;
    const isPast = (seconds: number | undefined) =>
      seconds !== undefined && this.#board.nowUs - sinceUs >= seconds * 1_000_000;
    this.#getReady();
    this.#turnKnob(disturbances);
    sinceUs = this.#board.nowUs;
    let hasPaused = false;
    for (let taps = 0; taps < MOST_TAPS && !this.#isDone; taps++) {
      this.#wait(2_000_000);
      if (isPast(disturbances.powerFailsAfterS)) return this.switchOffAndOn();
      tapPedal(this.#board);
      while (this.#board.lampOn) {
        this.#wait(LOOK_US);
        if (isPast(disturbances.powerFailsAfterS)) return this.switchOffAndOn();
        if (isPast(disturbances.givesUpAfterS)) return this.#giveUp();
        if (!hasPaused && this.#board.lampOn && isPast(disturbances.pausesAfterS)) {
          hasPaused = true;
          tapPedal(this.#board);
          this.#wait(3_000_000);
        }
      }
      if (isPast(disturbances.leavesAfterS)) return;
    }
    this.#giveUp();
  }

  /** Exposes a strip, all of it, and says nothing of what was right. */
  async exposeStrip(strip: StripSettings): Promise<void> {
    await this.pair.with((board) => board.setStrip(strip));
    await this.pair.with((board) => board.choose('strip'));
    this.#getReady();
    for (let lit = 0; lit < strip.patches; lit++) {
      this.#wait(2_000_000);
      tapPedal(this.#board);
      while (this.#board.lampOn) this.#wait(LOOK_US);
    }
    this.#giveUp();
  }

  /** From wherever the board is to the sheet that waits for light. */
  #getReady(): void {
    for (let steps = 0; steps < MOST_TAPS && !this.#board.panel[0]!.startsWith('Tap start'); steps++) {
      if (/^Stopped down\?/.test(this.#board.panel[0]!)) holdPedal(this.#board, HOLD_MS);
      else tapPedal(this.#board);
      this.#wait(500_000);
    }
  }

  #turnKnob({ pushes = 0, clicks = 0 }: Disturbances): void {
    for (let push = 0; push < pushes; push++) {
      pushKnob(this.#board);
      this.#wait(300_000);
    }
    for (let click = 0; click < Math.abs(clicks); click++) {
      this.#board.knobTurn(Math.sign(clicks));
      this.#wait(300_000);
    }
  }

  get #isDone(): boolean {
    return this.#board.panel[3]!.trimEnd().endsWith('done');
  }

  #giveUp(): void {
    holdPedal(this.#board, HOLD_MS);
    this.#wait(2_000_000);
  }

  switchOffAndOn(offUs = 5_000_000): void {
    this.powerWentUs.push(this.#board.nowUs);
    this.#board.cutPower();
    this.#wait(offUs);
    this.#board.restorePower();
    this.#wait(1_000_000);
  }

  #wait(us: number): void {
    this.#board.advanceUs(us);
    const last = this.#edges.at(-1)?.atUs ?? -1;
    this.#edges.push(...this.#board.lampEdges.filter(({ atUs }) => atUs > last));
  }

  pulses(): Pulse[] {
    this.#wait(1_000_000);
    const pulses: Pulse[] = [];
    for (const [at, { atUs, on }] of this.#edges.entries())
      if (on) pulses.push({ fromUs: atUs, onUs: this.#edges[at + 1]!.atUs - atUs });
    return pulses;
  }
}

/** The light that fell in one exposure of the log, as the lamp itself gave it. */
export interface LitExposure {
  readonly entry: ExposureEntry;
  readonly pulses: readonly Pulse[];
  /** In milliseconds of full brightness, by the lamp's own equation. */
  readonly lightMs: number;
}

/**
 * Which pulses of the lamp each exposure of the log is, in their order; one that the power cut short has those until then.
 * Throws where a pulse is in no entry, or an entry has no light of its length.
 */
export function litExposures(
  entries: readonly ExposureEntry[],
  pulses: readonly Pulse[],
  powerWentUs: readonly number[],
): LitExposure[] {
  const left = [...pulses];
  const lit = entries.map((entry) => {
    const untilUs = powerWentUs[entry.boot - 1] ?? Number.POSITIVE_INFINITY;
    const own: Pulse[] = [];
    const isWhole = () =>
      entry.outcome === 'interrupted'
        ? (left[0]?.fromUs ?? Number.POSITIVE_INFINITY) >= untilUs
        : Math.round(own.reduce((sum, { onUs }) => sum + onUs, 0) / 1000) >= entry.onMs;
    while (!isWhole()) {
      const next = left.shift();
      if (next === undefined) throw new Error(`entry ${entry.seq} says light that the lamp did not give`);
      own.push(next);
    }
    return { entry, pulses: own, lightMs: lightOf(own) };
  });
  if (left.length > 0) throw new Error(`${left.length} pulses of the lamp are in no entry`);
  return lit;
}

function lightOf(pulses: readonly Pulse[]): number {
  if (pulses.length === 0) return 0;
  const edges = pulses.flatMap(({ fromUs, onUs }) => [
    { atUs: fromUs, on: true },
    { atUs: fromUs + onUs, on: false },
  ]);
  const trace = new LampTrace(lampFromLagAndRise(lamp.lagMs, lamp.riseMs), edges);
  return trace.lightMs(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
}
