import { signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { keyOf, type Place } from './place.js';

const UNDER_WAY: ReadonlySet<string> = new Set(['ready', 'exposing', 'paused', 'between-dodges']);

/** What light the sheet on the easel has had, for each place in its order of work. */
export class LightGiven {
  /** Where the next or the present light goes; undefined while no sheet is under way. */
  readonly place = signal<Place | undefined>(undefined);
  /** Rises whenever the sheet has got light, or is another. */
  readonly changes = signal(0);
  readonly #lightUs = new Map<string, number>();
  /** Light before this is counted; undefined in the dark. */
  #countedUs: number | undefined;
  #exposing = false;
  #finished = false;

  /** The board says where the evening went. Light for focusing falls on no paper. */
  move({ state, pass, piece }: MessageOf<'moved'>, nowUs: number): void {
    this.count(nowUs);
    this.#exposing = state === 'exposing';
    if (state === 'done' || state === 'rest') this.#finished = true;
    this.place.value =
      UNDER_WAY.has(state) && pass > 0 ? { pass: pass - 1, piece: Math.max(0, piece - 1) } : undefined;
  }

  light(on: boolean, nowUs: number): void {
    this.count(nowUs);
    this.#countedUs = on ? nowUs : undefined;
  }

  /** The sheet is gone, and a clean one lies there. */
  takeAway(): void {
    this.#lightUs.clear();
    this.#countedUs = undefined;
    this.#exposing = false;
    this.#finished = false;
    this.place.value = undefined;
    this.changes.value++;
  }

  get isNone(): boolean {
    return this.#lightUs.size === 0;
  }

  /** Of full light. */
  ms(pass: number, piece: number): number {
    return (this.#lightUs.get(keyOf({ pass, piece })) ?? 0) / 1000;
  }

  get totalMs(): number {
    return [...this.#lightUs.values()].reduce((sum, us) => sum + us, 0) / 1000;
  }

  /** The board moves on at the very moment at which the lamp does, before or after it: what counts is between. */
  count(nowUs: number): void {
    const place = this.place.value;
    if (this.#countedUs === undefined) return;
    const us = nowUs - this.#countedUs;
    this.#countedUs = nowUs;
    if (!this.#exposing || place === undefined) return;
    if (us === 0) return;
    // The first light after a finished sheet falls on another.
    if (this.#finished && place.pass === 0 && place.piece === 0) this.#lightUs.clear();
    this.#finished = false;
    this.#lightUs.set(keyOf(place), (this.#lightUs.get(keyOf(place)) ?? 0) + us);
    this.changes.value++;
  }
}
