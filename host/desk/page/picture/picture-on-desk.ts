import { computed, signal } from '@preact/signals';
import { type Framing, reframed } from '../../../recipe/framing.js';
import type { Shape } from '../../../recipe/shape.js';
import type { PaperTold } from '../../server/papers/told.js';
import { paperInUse } from '../paper/paper-on-desk.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import {
  type Area,
  type AreaPlace,
  areasIn,
  placeName,
  stopsWithin,
  withArea,
  withNewArea,
  withoutHidden,
} from './areas.js';
import { Making } from './making.js';
import type { Planned, ScanPixels } from './print-maker.js';
import { shapeBetween } from './shape-changes.js';
import { rehearsedSizeOf } from './smaller.js';

export interface LaidBeside extends Planned {
  readonly paper: PaperTold | undefined;
}

/** How the print is looked at: what stands beside the recipe and changes nothing of it. */
export class PictureOnDesk {
  readonly print: PrintOnDesk;
  readonly making = new Making();
  /** The chosen area's place, as `placeName` has it. */
  readonly chosenName = signal('');
  readonly hidden = signal<ReadonlySet<string>>(new Set());
  readonly marked = signal(false);
  /** The print that is shown beside this one, on the paper that was in use when it was laid there. */
  readonly beside = signal<LaidBeside | undefined>(undefined);
  /** The chosen corner of the chosen area. */
  readonly corner = signal(0);
  /** The next drag on the sheet draws the chosen area. */
  readonly drawing = signal(false);
  /** Width / height of the sheet. */
  readonly aspect = signal(1.5);
  /** Rises with each negative that is laid in. */
  readonly negatives = signal(0);
  /** The scan, small: the one who makes pictures has it whole. Undefined for the invented negative. */
  readonly scan = signal<ScanPixels | undefined>(undefined);
  /** The scan's; empty for the invented negative. */
  readonly scanName = signal('');
  readonly areas = computed(() => areasIn(this.print.recipe.value));
  readonly chosen = computed(() =>
    this.areas.value.find(({ place }) => placeName(place) === this.chosenName.value),
  );
  /** The last that the core could plan, so that the sheet stays while a refusal is mended. */
  readonly planned = computed<Planned | undefined>(() => {
    const planned = this.print.planned.value;
    if ('plan' in planned) this.#lastPlanned = { recipe: this.print.recipe.value, plan: planned.plan };
    return this.#lastPlanned;
  });
  #lastPlanned: Planned | undefined;
  #right: Planned | undefined;
  #tied: Planned | undefined;
  #steps = 0;

  constructor(print: PrintOnDesk) {
    this.print = print;
  }

  /** Its base counts as right on paper, so that what is changed since then shows: as it was when a strip tied film to light. */
  get right(): Planned | undefined {
    const now = this.planned.peek();
    this.#right ??= now;
    if (now?.recipe.filmTie === undefined) return this.#right;
    if (this.#tied?.recipe.filmTie !== now.recipe.filmTie) this.#tied = now;
    return this.#tied;
  }

  /** What the canvas is to show. */
  shown(): Planned | undefined {
    const planned = this.planned.value;
    return planned && { ...planned, recipe: withoutHidden(planned.recipe, this.hidden.value) };
  }

  async layScan(name: string, scan: ScanPixels): Promise<void> {
    // Before it is handed over.
    const small = rehearsedSizeOf(scan);
    await this.making.lay(scan);
    this.scan.value = small;
    this.scanName.value = name;
    this.negatives.value++;
  }

  layBeside(print: Planned | undefined): void {
    this.beside.value = print && { ...print, paper: paperInUse.peek() };
  }

  choose(place: AreaPlace): void {
    this.chosenName.value = placeName(place);
  }

  /** What follows until the next beginning is undone as one. */
  beginStep(): void {
    this.#steps++;
  }

  reshape({ place, label }: Area, shape: Shape): void {
    this.#change(place, `the area of ${label}`, { shape });
  }

  giveStops({ place, label, kind }: Area, stops120: number): void {
    this.#change(place, `the stops of ${label}`, { stops120: stopsWithin(kind, stops120) });
  }

  reframe(change: Partial<Framing>): void {
    const recipe = this.print.recipe.value;
    const { framing: before, ...unframed } = recipe;
    const framing = reframed(before, change);
    this.print.change(
      framing === undefined ? unframed : { ...recipe, framing },
      `the framing (${this.#steps})`,
    );
  }

  add(kind: Area['kind'], shape: Shape['kind']): void {
    const middle =
      shape === 'edge' ? shapeBetween(shape, [50, 0], [50, 40]) : shapeBetween(shape, [35, 35], [65, 65]);
    const [recipe, place] = withNewArea(this.print.recipe.value, kind, middle);
    this.print.change(recipe, `a new ${kind} (${this.#steps++})`);
    this.choose(place);
    this.drawing.value = true;
  }

  hide({ place }: Area, isHidden: boolean): void {
    const hidden = new Set(this.hidden.value);
    if (isHidden) hidden.add(placeName(place));
    else hidden.delete(placeName(place));
    this.hidden.value = hidden;
  }

  #change(place: AreaPlace, step: string, change: Parameters<typeof withArea>[2]): void {
    this.print.change(withArea(this.print.recipe.value, place, change), `${step} (${this.#steps})`);
  }
}

const pictures = new WeakMap<PrintOnDesk, PictureOnDesk>();

/** The same for one print, however often its view comes up. */
export function pictureOf(print: PrintOnDesk): PictureOnDesk {
  const picture = pictures.get(print) ?? new PictureOnDesk(print);
  pictures.set(print, picture);
  return picture;
}
