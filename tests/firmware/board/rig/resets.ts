import { BasePeripheral, type RP2040 } from 'rp2040js';

/** RP2040 datasheet section 2.14.3. */
const RESET = 0x0;
const RESET_DONE = 0x8;
const ALL = 0x1ffffff;
/** The boot ROM lets the flash's pins out of reset, or it could not read the boot block. */
const LEFT_BY_BOOT_ROM = ALL & ~((1 << 6) | (1 << 9));

/** The bit of each peripheral that the firmware uses, by its place in the emulator's table. */
const bits: Readonly<Record<number, number>> = {
  262164: 5,
  262172: 8,
  262184: 12,
  262196: 22,
  262212: 3,
  262224: 14,
  262228: 21,
  327952: 24,
};

/** Which peripherals are held in reset; touching one that is would do nothing, or hang. */
export class Resets extends BasePeripheral {
  /** Bits of peripherals that are held from now on. */
  onHeld: (bits: number) => void = () => {};
  #held = LEFT_BY_BOOT_ROM;

  static for(chip: RP2040): Resets {
    return new Resets(chip, 'RESETS');
  }

  holds(place: number): boolean {
    const bit = bits[place];
    return bit !== undefined && (this.#held & (1 << bit)) !== 0;
  }

  override readUint32(offset: number): number {
    if (offset === RESET) return this.#held;
    return offset === RESET_DONE ? ~this.#held & ALL : 0;
  }

  override writeUint32(offset: number, value: number): void {
    if (offset !== RESET) return;
    const newly = value & ~this.#held & ALL;
    this.#held = value & ALL;
    if (newly !== 0) this.onHeld(newly);
  }
}
