import { batch, signal } from '@preact/signals';
import { limits } from '../../../../shared-protocol/limits.js';
import { CoreBoard } from '../../../board/sim/core-board.js';
import { nameFromTitle, type Recipe, toBoardRecipe } from '../../../recipe/index.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { boathousePrint, type RehearsedPrint } from './boathouse.js';
import { PageLaptop } from './page-laptop.js';
import { SheetUnderLight } from './sheet-under-light.js';
import { Sounder } from './sounder.js';

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
  readonly #sheet = signal(new SheetUnderLight(boathousePrint()));
  readonly #onDesk: PrintOnDesk;
  #board = new CoreBoard({ powered: false });

  constructor(onDesk: PrintOnDesk) {
    this.#onDesk = onDesk;
  }

  /** What lay on the desk when the rehearsal began. */
  get print(): RehearsedPrint {
    return this.#sheet.value.print;
  }

  get sheet(): SheetUnderLight {
    return this.#sheet.value;
  }

  /** Begins anew where something else lies on the desk by now. */
  async takeFromDesk(): Promise<void> {
    if (isRehearsable(this.#onDesk, this.print)) await this.begin(this.beginning.peek());
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
    const board = new CoreBoard();
    this.#board = board;
    this.#watch(board);
    board.advanceUs(START_US);
    if (beginning === 'sent') await this.#bringRecipe(board);
    this.beginning.value = beginning;
    this.#pace();
  }

  /** A clean sheet, for the print on the desk; one that cannot be printed leaves the one before it. */
  #takeSheet(): void {
    const [recipe, planned] = [this.#onDesk.recipe.peek(), this.#onDesk.planned.peek()];
    if (isRehearsable(this.#onDesk, this.print) && 'plan' in planned)
      this.#sheet.value = new SheetUnderLight({ recipe, plan: planned.plan });
    else this.sheet.takeAway();
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

  async #bringRecipe(board: CoreBoard): Promise<void> {
    const laptop = new PageLaptop(board, {
      moved: (moved) => this.sheet.move(moved, board.nowUs),
      status: ({ job }) => this.sheet.work(job === 'recipe'),
    });
    await laptop.greet();
    await laptop.bring(toBoardRecipe(named(this.print.recipe)));
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
        this.sheet.light(on, board.nowUs);
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
