import { BasePeripheral, type RP2040 } from 'rp2040js';

/** RP2040 datasheet section 4.5.3: five registers a slice. */
const SLICE_BYTES = 20;
const SLICES = 8;
const CSR = 0;
const DIV = 4;
const CC = 12;
const TOP = 16;

/** What a slice puts out on its channel A. */
export interface Wave {
  readonly hz: number;
  /** The part of the time that it is high, 0 to 1. */
  readonly duty: number;
}

/** The PWM slices as settings; the emulator's own counts every edge, which is nothing to us but time. */
export class Pwm extends BasePeripheral {
  onChange: (slice: number) => void = () => {};
  readonly #registers = new Uint32Array((SLICES * SLICE_BYTES) / 4);

  wave(slice: number): Wave {
    const register = (offset: number) => this.#registers[(slice * SLICE_BYTES + offset) / 4]!;
    const period = register(TOP) + 1;
    const high = register(CC) & 0xffff;
    if ((register(CSR) & 1) === 0 || high === 0) return { hz: 0, duty: 0 };
    return { hz: this.rp2040.clkSys / ((register(DIV) / 16) * period), duty: Math.min(1, high / period) };
  }

  override readUint32(offset: number): number {
    return this.#registers[offset / 4] ?? 0;
  }

  override writeUint32(offset: number, value: number): void {
    if (offset / 4 >= this.#registers.length) return;
    this.#registers[offset / 4] = value;
    this.onChange(Math.floor(offset / SLICE_BYTES));
  }

  static for(chip: RP2040): Pwm {
    return new Pwm(chip, 'PWM');
  }
}
