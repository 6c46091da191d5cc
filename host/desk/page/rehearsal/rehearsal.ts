import { batch, type Signal, signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { CoreBoard } from '../../../board/sim/core-board.js';
import { nameFromTitle, type Recipe, toBoardRecipe } from '../../../recipe/index.js';
import { pictureOf } from '../picture/picture-on-desk.js';
import type { ScanPixels } from '../picture/print-maker.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { boathousePrint, type RehearsedPrint } from './boathouse.js';
import { negativeOnDesk } from './negative-on-desk.js';
import { PageLaptop } from './page-laptop.js';
import { SheetUnderLight } from './sheet-under-light.js';
import { Sounder } from './sounder.js';
import { Tray } from './tray.js';

/** What the board has when a rehearsal begins. */
export type Beginning = 'sent' | 'fresh';

/** What the core takes to come up and draw its first screen. */
const START_US = 500_000;

/** The board that is rehearsed on, and what of it is seen and heard just now. */
export class Rehearsal {
  readonly beginning = signal<Beginning>('sent');
  readonly rows = Array.from({ length: limits.displayRows }, () => signal(''));
  readonly lampOn = signal(false);
  readonly speed = signal(1);
  readonly pedalDown = signal(false);
  readonly knobDown = signal(false);
  readonly knobClicks = signal(0);
  readonly sounder = new Sounder();
  readonly #onDesk: PrintOnDesk;
  readonly #sheet: Signal<SheetUnderLight>;
  readonly #tray = signal(new Tray());
  /** What the negative of the sheet was made from. */
  #scan: ScanPixels | undefined;
  #job: MessageOf<'status'>['job'] = 'none';
  #board = new CoreBoard({ powered: false });

  constructor(onDesk: PrintOnDesk) {
    this.#onDesk = onDesk;
    this.#sheet = signal(this.#sheetFor(boathousePrint()));
  }

  /** What lay on the desk when the rehearsal began. */
  get print(): RehearsedPrint {
    return this.#sheet.value.print;
  }

  get sheet(): SheetUnderLight {
    return this.#sheet.value;
  }

  get tray(): Tray {
    return this.#tray.value;
  }

  /** Begins anew where something else lies on the desk by now. */
  async takeFromDesk(): Promise<void> {
    const isAnother = isRehearsable(this.#onDesk, this.print) || this.#scan !== this.#scanOnDesk;
    if (isAnother) await this.begin(this.beginning.peek());
  }

  /** The board just now: another one after each beginning. */
  get board(): CoreBoard {
    return this.#board;
  }

  /** Everything from the start, with another board. */
  async begin(beginning: Beginning): Promise<void> {
    this.#board.close();
    this.sounder.sound(0, 0);
    this.#takeSheet();
    this.#job = 'none';
    const board = new CoreBoard();
    this.#board = board;
    this.#watch(board);
    board.advanceUs(START_US);
    await this.#connect(board, beginning);
    this.beginning.value = beginning;
    this.#pace();
  }

  /** A clean sheet, for print and negative on the desk; a print that cannot be made leaves the one before it. */
  #takeSheet(): void {
    const [recipe, planned] = [this.#onDesk.recipe.peek(), this.#onDesk.planned.peek()];
    if (isRehearsable(this.#onDesk, this.print) && 'plan' in planned)
      this.#sheet.value = this.#sheetFor({ recipe, plan: planned.plan });
    else if (this.#scan !== this.#scanOnDesk) this.#sheet.value = this.#sheetFor(this.print);
    else this.sheet.takeAway();
  }

  #sheetFor(print: RehearsedPrint): SheetUnderLight {
    const scan = this.#scanOnDesk;
    this.#scan = scan;
    return new SheetUnderLight(print, () => negativeOnDesk(scan, print.recipe));
  }

  get #scanOnDesk(): ScanPixels | undefined {
    return pictureOf(this.#onDesk).scan.peek();
  }

  runAt(speed: number): void {
    this.speed.value = speed;
    this.#pace();
  }

  pedal(down: boolean): void {
    this.pedalDown.value = down;
    this.#board.pedal(down);
    this.#pace();
  }

  knobPush(down: boolean): void {
    this.knobDown.value = down;
    this.#board.knobPush(down);
    this.#pace();
  }

  /** While foot or finger are down time goes as it is: ten times as fast, every tap would be a hold. */
  #pace(): void {
    const isPressed = this.pedalDown.value || this.knobDown.value;
    this.#board.runAt(isPressed ? 1 : this.speed.value);
  }

  async #connect(board: CoreBoard, beginning: Beginning): Promise<void> {
    const laptop = new PageLaptop(board, {
      moved: (moved) => this.#move(moved, board.nowUs),
      status: ({ job }) => {
        this.#job = job;
      },
      logged: (entry) => {
        if (entry.type === 'exposure') this.sheet.lit(entry);
        else this.sheet.begin(entry, named(this.print.recipe).name);
      },
    });
    await laptop.greet();
    this.#tray.value = new Tray(await laptop.developer());
    if (beginning === 'sent') await laptop.bring(toBoardRecipe(named(this.print.recipe)));
  }

  #move(moved: MessageOf<'moved'>, nowUs: number): void {
    const { sheet } = this;
    sheet.given.move(moved, nowUs);
    if (this.#job !== 'process') return;
    this.tray.move(moved, nowUs, () => {
      if (sheet.given.isNone) return undefined;
      const brought = sheet.picture(nowUs);
      sheet.takeAway();
      return brought;
    });
  }

  #watch(board: CoreBoard): void {
    batch(() => {
      this.lampOn.value = board.lampOn;
      board.panel.forEach((text, row) => {
        this.rows[row]!.value = text;
      });
    });
    board
      .on('panel', (row, text) => {
        this.rows[row]!.value = text;
      })
      .on('lamp', ({ on }) => {
        this.lampOn.value = on;
        this.sheet.given.light(on, board.nowUs);
      })
      .on('tone', ({ hz, volumePercent }) => this.sounder.sound(hz, volumePercent));
  }
}

/** Whether there is another print than the one that is rehearsed, and one that can be carried out. */
function isRehearsable({ recipe, planned }: PrintOnDesk, rehearsed: RehearsedPrint): boolean {
  return recipe.peek() !== rehearsed.recipe && 'plan' in planned.peek();
}

/** A board keeps no recipe without a name; a new print may have none yet. */
function named(recipe: Recipe): Recipe {
  return { ...recipe, name: recipe.name || nameFromTitle(recipe.title) || 'new-print' };
}
