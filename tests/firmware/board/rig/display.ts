import { limits } from '../../../../shared-protocol/limits.js';

const { displayColumns, displayRows } = limits;
const RS = 1;
const READ = 2;
const ENABLE = 4;
const LIGHT = 8;
/** First addresses of the rows of a 4 x 20 glass. */
const rowAddresses = [0x00, 0x40, 0x14, 0x54];
/** HD44780 data sheet, table 6: at 270 kHz. */
const instructionUs = 37;
const clearUs = 1520;
/** PCF8574 data sheet: power-on reset sets all pins high. */
const POWERED_UP = 0xff;

/**
 * A text display: an HD44780 behind a PCF8574, as the wires see it. It starts with eight wires, as the
 * controller does after power-up, and takes four only when it is told to.
 */
export class TextDisplay {
  readonly address = 0x27;
  /** Things that a real one would not forgive, in words. */
  readonly mistakes: string[] = [];
  plugged = true;
  /** How many characters were written to it. */
  written = 0;
  /** On a board as it is bought, the expander's P3 grounds the light through a transistor, past the one on GPIO 12. */
  lightGrounded = true;

  readonly #cells = new Uint8Array(0x80).fill(0x20);
  #on = false;
  #cursor = 0;
  #wires = 8;
  #half: number | undefined;
  #last = POWERED_UP;
  #readyUs = 0;

  /** Power went and came back. */
  restart(): void {
    this.#cells.fill(0x20);
    this.#on = false;
    this.#wires = 8;
    this.#half = undefined;
    this.#last = POWERED_UP;
    this.lightGrounded = true;
    this.#readyUs = 0;
  }

  /** 0xFF is the cell with every dot on (HD44780 data sheet, table 4). */
  get rows(): string[] {
    if (!this.plugged || !this.#on)
      return Array.from({ length: displayRows }, () => ' '.repeat(displayColumns));
    return rowAddresses.map((from) =>
      String.fromCharCode(...this.#cells.subarray(from, from + displayColumns)).replaceAll('\u00ff', '█'),
    );
  }

  /** A byte for the expander at `nowUs`: its eight pins. */
  write(byte: number, nowUs: number): void {
    const falls = (this.#last & ENABLE) !== 0 && (byte & ENABLE) === 0;
    this.#last = byte;
    this.lightGrounded = (byte & LIGHT) !== 0;
    if (this.lightGrounded) this.mistakes.push('P3 set: the light cannot be put out');
    if (!falls) return;
    if (byte & READ) this.mistakes.push('a read, which nobody waits for');
    this.#latch(byte >> 4, (byte & RS) !== 0, nowUs);
  }

  #latch(nibble: number, isText: boolean, nowUs: number): void {
    if (nowUs < this.#readyUs) this.mistakes.push('written while it was busy');
    if (this.#wires === 8) {
      this.#instruct(nibble << 4, nowUs);
    } else if (this.#half === undefined) {
      this.#half = nibble;
    } else {
      const byte = (this.#half << 4) | nibble;
      this.#half = undefined;
      if (isText) this.#put(byte, nowUs);
      else this.#instruct(byte, nowUs);
    }
  }

  #put(byte: number, nowUs: number): void {
    this.#readyUs = nowUs + instructionUs;
    this.#cells[this.#cursor] = byte;
    this.written++;
    this.#cursor = this.#cursor === 0x27 ? 0x40 : this.#cursor === 0x67 ? 0 : this.#cursor + 1;
  }

  #instruct(byte: number, nowUs: number): void {
    this.#readyUs = nowUs + instructionUs;
    if (byte & 0x80) this.#cursor = byte & 0x7f;
    else if (byte & 0x20) this.#setWires(byte & 0x10 ? 8 : 4);
    else if (byte & 0x08) this.#on = (byte & 0x04) !== 0;
    else if (byte === 0x01) this.#clear(nowUs);
  }

  #setWires(wires: number): void {
    this.#wires = wires;
    this.#half = undefined;
  }

  #clear(nowUs: number): void {
    this.#cells.fill(0x20);
    this.#cursor = 0;
    this.#readyUs = nowUs + clearUs;
  }
}
