import type { SimulatedBoard } from '../../board/sim/simulated-board.js';
import type { Act } from './keys.js';

/** As long as a foot's tap, and well over the 0.8 s at which the core takes a press for a hold. */
const TAP_US = 120_000;
const HOLD_US = 1_000_000;

type Contact = (down: boolean) => void;

/** Foot and hand at a simulated board that goes on in real time; every act but `quit`. */
export class Hands {
  readonly #board: SimulatedBoard;
  #pedalDown = false;

  constructor(board: SimulatedBoard) {
    this.#board = board;
  }

  act(act: Exclude<Act, 'quit'>): void {
    const pedal: Contact = (down) => this.#pedal(down);
    const knob: Contact = (down) => this.#board.knobPush(down);
    const acts: Record<typeof act, () => void> = {
      tap: () => this.#pressFor(TAP_US, pedal),
      hold: () => this.#pressFor(HOLD_US, pedal),
      'press-release': () => this.#pedal(!this.#pedalDown),
      'turn-left': () => this.#board.knobTurn(-1),
      'turn-right': () => this.#board.knobTurn(1),
      push: () => this.#pressFor(TAP_US, knob),
      'push-hold': () => this.#pressFor(HOLD_US, knob),
      power: () => (this.#board.powered ? this.#board.cutPower() : this.#board.restorePower()),
    };
    acts[act]();
  }

  #pedal(down: boolean): void {
    this.#pedalDown = down;
    this.#board.pedal(down);
  }

  #pressFor(forUs: number, contact: Contact): void {
    contact(true);
    this.#board.timeline.at(this.#board.nowUs + forUs, () => contact(false));
  }
}
