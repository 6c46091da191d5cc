import { signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../darkroom/paper/paper.js';
import type { GreyPicture } from '../../../darkroom/picture/grey.js';
import { luxOf, type PreviewSetup, picturePrint, shapesOf } from '../../../darkroom/picture/preview.js';
import { sheetWith } from '../../../darkroom/sheet/exposed-sheet.js';
import type { RehearsedPrint } from './boathouse.js';
import { type HeldBack, heldBackAt } from './held-back.js';
import { keyOf, type Place } from './place.js';

/** Enough to see every area by; a sheet is worked out many times while the lamp is on. */
export const sheetPixels = { width: 480, height: 320 } as const;

/** What a picture needs beside the light: made when the first is wanted, so that the page is there before it. */
interface Prepared {
  readonly setup: PreviewSetup;
  readonly lux: number;
}

function prepare({ recipe, plan }: RehearsedPrint): Prepared {
  const setup = { negative: boathouseNegative(sheetPixels.height), paper: new Paper(commonPaper) };
  return { setup, lux: luxOf(recipe, plan, setup) };
}

/** The sheet on the easel: what the lamp gave it so far, piece by piece, with the hands where the recipe has them. */
export class SheetUnderLight {
  /** Where the next or the present light goes; undefined while nothing of the print is under way. */
  readonly place = signal<Place | undefined>(undefined);
  /** Rises whenever the sheet has got light, or is another. */
  readonly changes = signal(0);
  readonly print: RehearsedPrint;
  #prepared: Prepared | undefined;
  readonly #lightUs = new Map<string, number>();
  /** Light before this is counted; undefined in the dark. */
  #countedUs: number | undefined;
  #exposing = false;
  /** The recipe is what the pedal works on; a strip's paper is another, and is not drawn. */
  #isPrint = true;
  #finished = false;
  #hold: HeldBack | undefined;

  constructor(print: RehearsedPrint) {
    this.print = print;
  }

  /** The board says where the evening went. Light for focusing falls on no paper. */
  move({ state, pass, piece }: MessageOf<'moved'>, nowUs: number): void {
    this.#count(nowUs);
    this.#exposing = state === 'exposing';
    if (state === 'done' || state === 'rest') this.#finished = true;
    const underWay =
      state === 'ready' || state === 'exposing' || state === 'paused' || state === 'between-dodges';
    this.place.value =
      this.#isPrint && underWay && pass > 0 ? { pass: pass - 1, piece: Math.max(0, piece - 1) } : undefined;
  }

  /** What the light from now on is for. */
  work(isPrint: boolean): void {
    this.#isPrint = isPrint;
    if (!isPrint) this.place.value = undefined;
  }

  light(on: boolean, nowUs: number): void {
    this.#count(nowUs);
    this.#countedUs = on ? nowUs : undefined;
  }

  takeAway(): void {
    this.#lightUs.clear();
    this.#countedUs = undefined;
    this.#exposing = false;
    this.#finished = false;
    this.#isPrint = true;
    this.place.value = undefined;
    this.changes.value++;
  }

  /** How the sheet would come out of the developer now, with the light until `nowUs`. */
  picture(nowUs: number): GreyPicture {
    this.#count(nowUs);
    const { recipe, plan } = this.print;
    this.#prepared ??= prepare(this.print);
    const { setup, lux } = this.#prepared;
    const lightMs = (pass: number, piece: number) => (this.#lightUs.get(keyOf({ pass, piece })) ?? 0) / 1000;
    return picturePrint(sheetWith(plan, shapesOf(recipe), lux, lightMs), setup).picture;
  }

  /** Where hand or card are just now, or will be. */
  heldBack(): HeldBack | undefined {
    const place = this.place.value;
    if (place === undefined) return undefined;
    if (this.#hold?.key !== keyOf(place)) this.#hold = heldBackAt(this.print, place, sheetPixels);
    return this.#hold;
  }

  /** The board moves on at the very moment at which the lamp does, before or after it: what counts is between. */
  #count(nowUs: number): void {
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
