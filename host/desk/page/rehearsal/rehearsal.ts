import { batch, signal } from '@preact/signals';
import { limits } from '../../../../shared-protocol/limits.js';
import { CoreBoard } from '../../../board/sim/core-board.js';
import { toBoardRecipe } from '../../../recipe/index.js';
import { boathousePrint } from './boathouse.js';
import { PageLaptop } from './page-laptop.js';
import { SheetUnderLight } from './sheet-under-light.js';
import { Sounder } from './sounder.js';

/** What the board has when a rehearsal begins. */
export type Beginning = 'boathouse' | 'fresh';

/** What the core takes to come up and draw its first screen. */
const START_US = 500_000;

/** The board that is rehearsed on, and what of it is seen and heard just now. */
export class Rehearsal {
  readonly beginning = signal<Beginning>('boathouse');
  readonly rows = Array.from({ length: limits.displayRows }, () => signal(''));
  readonly lampOn = signal(false);
  readonly speed = signal(1);
  readonly pedalDown = signal(false);
  readonly knobDown = signal(false);
  readonly knobClicks = signal(0);
  readonly sounder = new Sounder();
  readonly print = boathousePrint();
  readonly sheet = new SheetUnderLight(this.print);
  #board = new CoreBoard({ powered: false });

  /** The board just now: another one after each beginning. */
  get board(): CoreBoard {
    return this.#board;
  }

  /** Everything from the start, with another board. */
  async begin(beginning: Beginning): Promise<void> {
    this.#board.close();
    this.sounder.sound(0, 0);
    this.sheet.takeAway();
    const board = new CoreBoard();
    this.#board = board;
    this.#watch(board);
    board.advanceUs(START_US);
    if (beginning === 'boathouse') await this.#bringRecipe(board);
    this.beginning.value = beginning;
    this.#pace();
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
    await laptop.bring(toBoardRecipe(this.print.recipe));
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
