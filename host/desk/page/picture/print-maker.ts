import type { Enlarger } from '../../../darkroom/light/enlarger.js';
import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { framed } from '../../../darkroom/negative/framed.js';
import { commonScanReading, type Negative, scanTable } from '../../../darkroom/negative/negative.js';
import { tied } from '../../../darkroom/negative/tied.js';
import { isoPoints } from '../../../darkroom/paper/iso-6846.js';
import { commonPaper, Paper, type PaperFigures } from '../../../darkroom/paper/paper.js';
import { greyOfDensity } from '../../../darkroom/picture/grey.js';
import { enlargerOfRightPrint, luxOf, shapesOf } from '../../../darkroom/picture/preview.js';
import { PrintRenderer } from '../../../darkroom/picture/render.js';
import { sheetAsPlanned } from '../../../darkroom/sheet/exposed-sheet.js';
import { type Sheet, sheetDensityAt, wholeSheet } from '../../../darkroom/sheet/sheet.js';
import type { FilmTie } from '../../../recipe/film-tie.js';
import type { Framing } from '../../../recipe/framing.js';
import type { RecipePlan } from '../../../recipe/planner/recipe.js';
import type { Recipe } from '../../../recipe/recipe.js';
import { liveSizeOf } from './smaller.js';

/** Lines of the invented negative that stands in for a scan, as in a preview. */
const DEMO_LINES = 800;

export interface Planned {
  readonly recipe: Recipe;
  readonly plan: RecipePlan;
}

/** A scan as the server read it: 16-bit codes in rows from the top left. */
export interface ScanPixels {
  readonly width: number;
  readonly height: number;
  readonly samples: Uint16Array;
}

export type Asked =
  | { readonly kind: 'negative'; readonly scan: ScanPixels }
  | { readonly kind: 'picture'; readonly frame: Frame; readonly buffer: ArrayBuffer | undefined }
  | { readonly kind: 'density'; readonly x: number; readonly y: number };

/** One picture that is wanted. */
export interface Frame {
  readonly print: Planned;
  /** The print whose base is right on paper: others are as they are beside it. */
  readonly right: Planned;
  readonly size: 'live' | 'full';
  /** As in white light, or red for a page that is kept dark. */
  readonly ink: 'white' | 'red';
  /** Hatches what is lighter or darker than the paper's last tones. */
  readonly marked: boolean;
  /** The one that is worked on, or another to compare it with. */
  readonly which: 'worked-on' | 'beside';
  /** The paper that it is looked at on; the common one where left out. */
  readonly paper?: PaperFigures | undefined;
}

export interface Colours {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue and opacity of each pixel. */
  readonly buffer: ArrayBuffer;
}

/** Densities at one point of the last picture. */
export interface Densities {
  readonly print: number;
  readonly negative: number;
}

interface Loaded {
  /** As light falls through it. */
  readonly negative: Negative;
  /** log10 of the film's transmittance by its scan, for each code. */
  readonly filmLogs: ArrayLike<number>;
  readonly renderer: PrintRenderer;
  readonly greys: Uint8Array;
}

/** How the negative lies, and what a strip told of film and light. */
interface Way {
  readonly framing: Framing | undefined;
  readonly filmTie: FilmTie | undefined;
}

/** A print's negative between the blades, and what was loaded of it so far. */
interface Laid {
  readonly as: string;
  readonly negatives: Map<Frame['size'], Loaded>;
}

/** Works out the pictures of one print on the desk; in a worker where there can be one. */
export class PrintMaker {
  readonly #common = new Paper(commonPaper);
  readonly #papers = new Map<Frame['which'], { readonly of: string; readonly paper: Paper }>();
  #scan: ScanPixels | undefined;
  #live: ScanPixels | undefined;
  #invented: Negative | undefined;
  readonly #tables: Partial<Record<Framing['scanIs'], Float32Array>> = {};
  readonly #laid = new Map<Frame['which'], Laid>();
  #sheet: { readonly sheet: Sheet; readonly film: Loaded } | undefined;
  readonly #enlargers = new Map<Frame['which'], { readonly of: string; readonly enlarger: Enlarger }>();

  lay(scan: ScanPixels): void {
    this.#scan = scan;
    this.#live = liveSizeOf(scan);
    this.#laid.clear();
    this.#sheet = undefined;
    this.#enlargers.clear();
  }

  picture({ print, right, size, ink, marked, which, paper: figures }: Frame, buffer?: ArrayBuffer): Colours {
    const way: Way = { framing: print.recipe.framing, filmTie: right.recipe.filmTie };
    const { negative, renderer, greys } = this.#loaded(which, way, size);
    const film = this.#wholest(which, way, size);
    const whole = film.negative;
    const paper = this.#paperFor(which, figures);
    const enlarger = this.#enlargerFor(which, right, { negative: whole, paper }, way.framing);
    const lux = luxOf(print.recipe, print.plan, { negative: whole, paper, enlarger });
    const sheet = wholeSheet(paper, sheetAsPlanned(print.plan, shapesOf(print.recipe), lux).lights);
    if (which === 'worked-on') this.#sheet = { sheet, film };
    renderer.render(sheet, greys);
    const { width, height } = negative;
    const into = buffer?.byteLength === 4 * greys.length ? buffer : new ArrayBuffer(4 * greys.length);
    fillColours(new Uint32Array(into), greys, width, ink, marked ? lastTones(paper) : undefined);
    return { width, height, buffer: into };
  }

  /** Undefined before there is a picture. */
  densitiesAt(x: number, y: number): Densities | undefined {
    if (this.#sheet === undefined) return undefined;
    const { sheet, film } = this.#sheet;
    const { negative, filmLogs } = film;
    const at = pixelAt(negative, x, y);
    return {
      print: sheetDensityAt(sheet, negative, x, y),
      negative: -filmLogs[negative.samples[at]!]!,
    };
  }

  /** Its base is right for what lies between the blades. Worked out once: it takes a look at the whole negative. */
  #enlargerFor(
    which: Frame['which'],
    { recipe, plan }: Planned,
    film: { readonly negative: Negative; readonly paper: Paper },
    framing: Framing | undefined,
  ): Enlarger {
    const { negative, paper } = film;
    const of = JSON.stringify([recipe, framing, negative.width, negative.height, paper.figures]);
    const known = this.#enlargers.get(which);
    if (known?.of === of) return known.enlarger;
    const enlarger = enlargerOfRightPrint(recipe, plan, film);
    this.#enlargers.set(which, { of, enlarger });
    return enlarger;
  }

  /** The same as long as its figures are: what was made on it holds. */
  #paperFor(which: Frame['which'], figures: PaperFigures | undefined): Paper {
    if (figures === undefined) return this.#common;
    const of = JSON.stringify(figures);
    const known = this.#papers.get(which);
    if (known?.of === of) return known.paper;
    const paper = new Paper(figures);
    this.#papers.set(which, { of, paper });
    return paper;
  }

  #loaded(which: Frame['which'], way: Way, size: Frame['size']): Loaded {
    const { negatives } = this.#laidAs(which, JSON.stringify(way));
    const of = this.#scan === this.#live ? 'full' : size;
    const loaded =
      negatives.get(of) ??
      load(framed(this.#unframed(of, way.framing), way.framing), this.#scan && way.filmTie);
    negatives.set(of, loaded);
    return loaded;
  }

  /** In full size where that was asked for already: a blade that is being dragged waits for nothing. */
  #wholest(which: Frame['which'], way: Way, size: Frame['size']): Loaded {
    const { negatives } = this.#laidAs(which, JSON.stringify(way));
    return this.#loaded(which, way, negatives.has('full') ? 'full' : size);
  }

  #laidAs(which: Frame['which'], as: string): Laid {
    const laid = this.#laid.get(which);
    if (laid?.as === as) return laid;
    const anew: Laid = { as, negatives: new Map() };
    this.#laid.set(which, anew);
    return anew;
  }

  #unframed(size: Frame['size'], framing: Framing | undefined): Negative {
    const scan = size === 'live' ? this.#live : this.#scan;
    if (scan === undefined) {
      this.#invented ??= boathouseNegative(DEMO_LINES);
      return this.#invented;
    }
    const as = framing?.scanIs ?? 'negative';
    this.#tables[as] ??= scanTable({ ...commonScanReading, as });
    return { ...scan, logTransmittance: this.#tables[as] };
  }
}

/** Where ISO 6846 begins and ends the paper's range, as greys. */
function lastTones({ figures: { baseDensity, maximumDensity } }: Paper): LastTones {
  const net = maximumDensity - baseDensity;
  return {
    white: greyOfDensity(baseDensity + isoPoints.lowestNetDensity, baseDensity),
    black: greyOfDensity(baseDensity + isoPoints.highestNetShare * net, baseDensity),
  };
}

/** @param filmTie of a scan; what a strip told of another says nothing of the invented negative. */
function load(film: Negative, filmTie: FilmTie | undefined): Loaded {
  const negative = tied(film, filmTie);
  const greys = new Uint8Array(negative.width * negative.height);
  return { negative, filmLogs: film.logTransmittance, renderer: new PrintRenderer(negative), greys };
}

function pixelAt({ width, height }: Negative, x: number, y: number): number {
  const column = Math.min(width - 1, Math.max(0, Math.floor((x / 100) * width)));
  const row = Math.min(height - 1, Math.max(0, Math.floor((y / 100) * height)));
  return row * width + column;
}

interface LastTones {
  readonly white: number;
  readonly black: number;
}

const HATCH_PITCH = 8;
const HATCH_WIDTH = 3;
const HATCH = 0x60;

function fillColours(
  colours: Uint32Array,
  greys: Uint8Array,
  width: number,
  ink: Frame['ink'],
  tones: LastTones | undefined,
): void {
  const plain = Uint32Array.from({ length: 256 }, (_, grey) => colourOf(grey, ink));
  if (tones === undefined) {
    for (let at = 0; at < colours.length; at++) colours[at] = plain[greys[at]!]!;
    return;
  }
  const marked = plain.map((colour, grey) =>
    grey > tones.white || grey < tones.black ? colourOf(grey ^ HATCH, ink) : colour,
  );
  for (let at = 0; at < colours.length; at++) {
    const isHatch = ((at % width) + Math.floor(at / width)) % HATCH_PITCH < HATCH_WIDTH;
    colours[at] = (isHatch ? marked : plain)[greys[at]!]!;
  }
}

/** As the bytes of a canvas's pixel lie in a number, where the lowest byte comes first. */
function colourOf(grey: number, ink: Frame['ink']): number {
  return (ink === 'red' ? 0xff000000 | grey : 0xff000000 | (grey << 16) | (grey << 8) | grey) >>> 0;
}
