import type { Chip } from './chip.js';
import type { Image } from './image.js';

/** What one kind of event cost. */
export interface EventCost {
  count: number;
  instructions: number;
  worstInstructions: number;
  /** Longest, with what interrupts and waiting for the flash took of it. */
  worstUs: number;
}

/** Counts what each event of the core takes on the chip, from its call to its return. */
export class EventMeter {
  readonly costs = new Map<string, EventCost>();
  #open:
    | { readonly name: string; readonly returnTo: number; readonly from: number; readonly fromUs: number }
    | undefined;

  watch(chip: Chip, image: Image): void {
    const events = new Map<number, string>();
    for (const [symbol, address] of image.symbols) {
      const name = /^Z_coreZ_(\w+)$/.exec(symbol)?.[1];
      if (name !== undefined) events.set(address & ~1, name);
    }
    chip.core.blTaken = () => {
      const name = events.get(chip.core.PC & ~1);
      if (name === undefined) return;
      this.#open = { name, returnTo: chip.core.LR & ~1, from: chip.instructions, fromUs: chip.exactUs };
    };
    const execute = chip.core.executeInstruction.bind(chip.core);
    chip.core.executeInstruction = () => {
      if (this.#open?.returnTo === chip.core.PC) this.#close(chip);
      return execute();
    };
  }

  #close(chip: Chip): void {
    const { name, from, fromUs } = this.#open!;
    this.#open = undefined;
    const cost = this.costs.get(name) ?? { count: 0, instructions: 0, worstInstructions: 0, worstUs: 0 };
    const instructions = chip.instructions - from;
    cost.count++;
    cost.instructions += instructions;
    cost.worstInstructions = Math.max(cost.worstInstructions, instructions);
    cost.worstUs = Math.max(cost.worstUs, chip.exactUs - fromUs);
    this.costs.set(name, cost);
  }
}
