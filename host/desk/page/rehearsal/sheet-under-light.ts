import { signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import type { Negative } from '../../../darkroom/negative/negative.js';
import { commonPaper, Paper } from '../../../darkroom/paper/paper.js';
import type { GreyPicture } from '../../../darkroom/picture/grey.js';
import { luxOf, shapesOf } from '../../../darkroom/picture/preview.js';
import { PrintRenderer } from '../../../darkroom/picture/render.js';
import { sheetWith, stripBands } from '../../../darkroom/sheet/exposed-sheet.js';
import { type Sheet, wholeSheet } from '../../../darkroom/sheet/sheet.js';
import { paperInUse } from '../paper/paper-on-desk.js';
import type { RehearsedPrint } from './boathouse.js';
import { type HeldBack, heldBackAt, heldBackFromStrip } from './held-back.js';
import { LightGiven } from './light-given.js';
import { type PaperKind, paperKindOf } from './paper-kind.js';
import { keyOf, type Place } from './place.js';

/** What a picture needs beside the light: made when the first is wanted, so that the page is there before it. */
interface Prepared {
  readonly negative: Negative;
  readonly paper: Paper;
  readonly lux: number;
  readonly renderer: PrintRenderer;
}

function prepare({ recipe, plan }: RehearsedPrint, negative: Negative): Prepared {
  const paper = new Paper(paperInUse.peek()?.figures ?? commonPaper);
  return {
    negative,
    paper,
    lux: luxOf(recipe, plan, { negative, paper }),
    renderer: new PrintRenderer(negative),
  };
}

/** The sheet on the easel: what the lamp gave it so far, piece by piece, with hands and card where they belong. */
export class SheetUnderLight {
  readonly given = new LightGiven();
  readonly print: RehearsedPrint;
  readonly kind = signal<PaperKind>({ kind: 'print' });
  /** What the filter drawer holds for a strip, as the log has it. */
  #filter = '';
  readonly #prepare: () => Prepared;
  #prepared: Prepared | undefined;
  #hold: HeldBack | undefined;

  /** @param negative asked for once, when the first picture is wanted. */
  constructor(print: RehearsedPrint, negative: () => Negative) {
    this.print = print;
    this.#prepare = () => prepare(print, negative());
  }

  /** The log says what is begun. */
  begin(begun: MessageOf<'sheet'>, printName: string): void {
    this.kind.value = paperKindOf(begun, printName);
    this.#filter = '';
    this.#hold = undefined;
  }

  /** The log says through which filter light was given. */
  lit({ filter }: MessageOf<'exposure'>): void {
    this.#filter = filter;
  }

  takeAway(): void {
    this.given.takeAway();
    this.kind.value = { kind: 'print' };
  }

  /** Where in the print's order of work the evening is. */
  get placeInPrint(): Place | undefined {
    return this.kind.value.kind === 'print' ? this.given.place.value : undefined;
  }

  get size(): { readonly width: number; readonly height: number } {
    return this.#ready.negative;
  }

  /** How the sheet would come out of the developer now, with the light until `nowUs`. */
  picture(nowUs: number): GreyPicture {
    this.given.count(nowUs);
    return this.#ready.renderer.render(this.#sheet(this.#ready));
  }

  /** Where hand or card are just now, or will be. */
  heldBack(): HeldBack | undefined {
    const place = this.given.place.value;
    if (place === undefined) return undefined;
    if (this.#hold?.key !== keyOf(place)) this.#hold = this.#heldBackAt(place);
    return this.#hold;
  }

  get #ready(): Prepared {
    this.#prepared ??= this.#prepare();
    return this.#prepared;
  }

  #heldBackAt(place: Place): HeldBack | undefined {
    const kind = this.kind.value;
    if (kind.kind === 'strip') return heldBackFromStrip(kind, place, this.size);
    return kind.kind === 'print' ? heldBackAt(this.print, place, this.size) : undefined;
  }

  #sheet({ paper, lux }: Prepared): Sheet {
    const kind = this.kind.value;
    const { given, print } = this;
    if (kind.kind === 'print') {
      const lightMs = (pass: number, piece: number) => given.ms(pass, piece);
      return wholeSheet(paper, sheetWith(print.plan, shapesOf(print.recipe), lux, lightMs).lights);
    }
    if (kind.kind === 'strip') {
      const exposureMs = kind.plan.exposures.map((_, exposure) => given.ms(exposure, 0));
      return { paper, bands: stripBands(kind.plan, kind.cover, this.#filter, lux, exposureMs) };
    }
    const luxSeconds = kind.kind === 'whole' ? (lux * given.totalMs) / 1000 : 0;
    return wholeSheet(paper, [{ filter: this.#filter, luxSeconds }]);
  }
}
