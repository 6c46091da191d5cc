import type { RPI2C } from 'rp2040js';
import type { EmulatedClock } from './clock.js';
import type { TextDisplay } from './display.js';

const BIT_NANOS = 10_000; // 100 kHz
const BYTE_BITS = 9;
const IC_INTR_MASK = 0x30;
const IC_ENABLE = 0x6c;

/** The parts of the emulator's I2C block that a cleared enable bit must reset. */
interface Internals {
  state: number;
  busy: boolean;
  stop: boolean;
}

/** Two wires between the chip's I2C block and the display; every bit takes its time. */
export class I2cBus {
  /** Somebody holds the data line: nothing on the bus ever ends. */
  stuck = false;
  readonly #clock: EmulatedClock;
  /** Rises when the block is switched off: what was on the wires then is forgotten. */
  #epoch = 0;

  constructor(block: RPI2C, clock: EmulatedClock, display: TextDisplay, nowUs: () => number) {
    this.#clock = clock;
    block.onStart = () => this.#after(1, () => block.completeStart());
    block.onConnect = (address) =>
      this.#after(BYTE_BITS, () => block.completeConnect(display.plugged && address === display.address));
    block.onWriteByte = (byte) =>
      this.#after(BYTE_BITS, () => {
        if (display.plugged) display.write(byte, nowUs());
        block.completeWrite(display.plugged);
      });
    block.onStop = () => this.#after(1, () => block.completeStop());
    this.#completeBlock(block);
  }

  #after(bits: number, then: () => void): void {
    if (this.stuck) return;
    const epoch = this.#epoch;
    const alarm = this.#clock.createAlarm(() => {
      if (epoch === this.#epoch) then();
    });
    alarm.schedule(bits * BIT_NANOS);
  }

  /** What the emulator's block leaves out: the interrupt mask, and that switching it off forgets what it did. */
  #completeBlock(block: RPI2C): void {
    const write = block.writeUint32.bind(block);
    block.writeUint32 = (offset, value) => {
      if (offset === IC_INTR_MASK) {
        block.intEnable = value;
        block.checkInterrupts();
        return;
      }
      if (offset === IC_ENABLE && (value & 1) === 0) {
        this.#epoch++;
        Object.assign(block as unknown as Internals, { state: 0, busy: false, stop: false });
      }
      write(offset, value);
    };
  }
}
