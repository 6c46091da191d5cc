import { signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../darkroom/paper/paper.js';
import { luxOf, picturePrint, shapesOf } from '../../../darkroom/picture/preview.js';
import type { GreyPicture } from '../../../darkroom/picture/render.js';
import { sheetWith } from '../../../darkroom/sheet/exposed-sheet.js';
import type { RehearsedPrint } from './boathouse.js';

/** Enough to see every area by; a sheet is worked out many times while the lamp is on. */
const PICTURE_PIXELS = 320;

/** Where the lamp's light goes: a pass of the plan and a piece of it, both from 0. */
export interface Place {
  readonly pass: number;
  readonly piece: number;
}

/** The sheet on the easel: what the lamp gave it so far, piece by piece, with the hands where the recipe has them. */
export class SheetUnderLight {
  /** Where the next or the present light goes; undefined while nothing of the print is under way. */
  readonly place = signal<Place | undefined>(undefined);
  /** Rises whenever the sheet has got light, or is another. */
  readonly changes = signal(0);
  readonly #print: RehearsedPrint;
  readonly #setup = { negative: boathouseNegative(PICTURE_PIXELS), paper: new Paper(commonPaper) };
  readonly #lux: number;
  readonly #lightUs = new Map<string, number>();
  #lit: { readonly key: string; readonly fromUs: number } | undefined;
  #exposing = false;
  #finished = false;

  constructor(print: RehearsedPrint) {
    this.#print = print;
    this.#lux = luxOf(print.recipe, print.plan, this.#setup);
  }

  get aspect(): number {
    return this.#setup.negative.width / this.#setup.negative.height;
  }

  /** The board says where the evening went. Light for focusing falls on no paper. */
  move({ state, pass, piece }: MessageOf<'moved'>, nowUs: number): void {
    this.#count(nowUs);
    this.#exposing = state === 'exposing';
    if (state === 'done' || state === 'rest') this.#finished = true;
    const underWay =
      state === 'ready' || state === 'exposing' || state === 'paused' || state === 'between-dodges';
    this.place.value = underWay && pass > 0 ? { pass: pass - 1, piece: Math.max(0, piece - 1) } : undefined;
  }

  light(on: boolean, nowUs: number): void {
    this.#count(nowUs);
    if (!on) this.#lit = undefined;
    else this.#begin(nowUs);
  }

  takeAway(): void {
    this.#lightUs.clear();
    this.#lit = undefined;
    this.place.value = undefined;
    this.changes.value++;
  }

  /** How the sheet would come out of the developer now, with the light until `nowUs`. */
  picture(nowUs: number): GreyPicture {
    this.#count(nowUs);
    const { recipe, plan } = this.#print;
    const lightMs = (pass: number, piece: number) => (this.#lightUs.get(keyOf({ pass, piece })) ?? 0) / 1000;
    return picturePrint(sheetWith(plan, shapesOf(recipe), this.#lux, lightMs), this.#setup).picture;
  }

  /** The first light after a finished sheet falls on another. */
  #begin(nowUs: number): void {
    const place = this.place.value;
    if (!this.#exposing || place === undefined) return;
    if (this.#finished && place.pass === 0 && place.piece === 0) this.#lightUs.clear();
    this.#finished = false;
    this.#lit = { key: keyOf(place), fromUs: nowUs };
  }

  #count(nowUs: number): void {
    if (this.#lit === undefined) return;
    const { key, fromUs } = this.#lit;
    this.#lightUs.set(key, (this.#lightUs.get(key) ?? 0) + nowUs - fromUs);
    this.#lit = { key, fromUs: nowUs };
    this.changes.value++;
  }
}

function keyOf({ pass, piece }: Place): string {
  return `${pass}/${piece}`;
}
