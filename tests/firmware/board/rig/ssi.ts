import { BasePeripheral, type RP2040 } from 'rp2040js';
import type { NorFlash } from './nor-flash.js';

/** RP2040 datasheet section 4.10.13. */
const CTRLR0 = 0x00;
const CTRLR1 = 0x04;
const SSIENR = 0x08;
const SER = 0x10;
const BAUDR = 0x14;
const SR = 0x28;
const DR0 = 0x60;
const RX_SAMPLE_DLY = 0xf0;
const SPI_CTRLR0 = 0xf4;
const SR_READY = 0x06; // TFE and TFNF: what was written has been clocked out
const SR_RFNE = 0x08;
const FIFO_LENGTH = 16;

const frameFormat = (ctrlr0: number) => (ctrlr0 >>> 21) & 3;
const frameBits = (ctrlr0: number) => ((ctrlr0 >>> 16) & 31) + 1;
const transferMode = (ctrlr0: number) => (ctrlr0 >>> 8) & 3;
const QUAD = 2;
const READ_AFTER_ADDRESS = 3;
/** SPI_CTRLR0: 8 nibbles of address and mode, 4 wait cycles; without and with a command in front. */
const ADDRESS_AND_MODE = (4 << 11) | (8 << 2);
const COMMAND_FIRST = ADDRESS_AND_MODE | (2 << 8) | 1;
const STRAIGHT_TO_ADDRESS = ADDRESS_AND_MODE | 2;
const SERIAL_CLOCKS = 8;

/** What the SSI needs of its chip. */
interface SsiHost {
  nowUs(): number;
  /** Makes the processor wait. */
  stall(cycles: number): void;
  /** Something changed on the way to the flash. */
  touched(): void;
}

/** The SSI between the processor and the flash chip, and its pin's override for the chip's select line. */
export class Ssi extends BasePeripheral {
  readonly #flash: NorFlash;
  readonly #host: SsiHost;
  readonly #registers = new Map<number, number>();
  #received: number[] = [];
  #addressed: number[] = [];
  #forcedLow = false;
  #forced = false;
  /** It is asked for every few instructions; only what is written to the SSI or its pin can end it. */
  #knownToRead = false;

  constructor(chip: RP2040, flash: NorFlash, host: SsiHost) {
    super(chip, 'SSI');
    this.#flash = flash;
    this.#host = host;
  }

  /** Whether a read from the flash as memory would be understood by both sides. */
  get readsMemory(): boolean {
    if (!this.#knownToRead) this.#knownToRead = this.#isSetUpToRead();
    return this.#knownToRead;
  }

  #isSetUpToRead(): boolean {
    const ctrlr0 = this.#register(CTRLR0);
    const spiCtrlr0 = this.#register(SPI_CTRLR0);
    return (
      this.#register(SSIENR) === 1 &&
      frameFormat(ctrlr0) === QUAD &&
      frameBits(ctrlr0) === 32 &&
      transferMode(ctrlr0) === READ_AFTER_ADDRESS &&
      (spiCtrlr0 & 0xffffff) === STRAIGHT_TO_ADDRESS &&
      spiCtrlr0 >>> 24 === 0xa0 &&
      !this.#forced &&
      this.#flash.readable
    );
  }

  /** System clocks for each of the flash's. */
  get divider(): number {
    return this.#register(BAUDR);
  }

  /** The select line's override (IO_QSPI, section 2.19.6.2): 0 the SSI's own, 2 low, 3 high. */
  overrideSelect(how: number): void {
    this.#touched();
    const low = how === 2;
    this.#forced = how !== 0;
    if (low === this.#forcedLow) return;
    this.#flash.advanceTo(this.#host.nowUs());
    this.#forcedLow = low;
    if (low) this.#flash.select();
    else this.#flash.deselect();
  }

  override readUint32(offset: number): number {
    if (offset === SR) return SR_READY | (this.#received.length > 0 ? SR_RFNE : 0);
    if (offset === DR0) return this.#received.shift() ?? 0;
    return this.#register(offset);
  }

  override writeUint32(offset: number, value: number): void {
    this.#touched();
    if (offset === DR0) {
      this.#send(value);
      return;
    }
    const isSetUp = [CTRLR0, CTRLR1, BAUDR, RX_SAMPLE_DLY, SPI_CTRLR0, SER].includes(offset);
    if (isSetUp && this.#register(SSIENR) === 1)
      this.#flash.mistakes.push('the SSI was set up while enabled');
    this.#registers.set(offset, value);
    if (offset === SSIENR && value === 0) this.#clear();
  }

  #touched(): void {
    this.#knownToRead = false;
    this.#host.touched();
  }

  #clear(): void {
    this.#received = [];
    this.#addressed = [];
  }

  #send(value: number): void {
    const ctrlr0 = this.#register(CTRLR0);
    this.#flash.advanceTo(this.#host.nowUs());
    if (this.#register(SSIENR) !== 1 || this.#register(SER) !== 1) {
      this.#flash.mistakes.push('a byte for the flash while the SSI was not enabled');
      return;
    }
    if (frameFormat(ctrlr0) === QUAD) this.#sendQuad(value);
    else this.#sendSerial(value);
    if (this.#received.length > FIFO_LENGTH) this.#flash.mistakes.push('the SSI received more than it holds');
  }

  #sendSerial(value: number): void {
    this.#host.stall(SERIAL_CLOCKS * this.divider);
    if (this.#forcedLow) {
      this.#received.push(this.#flash.exchange(value & 0xff));
      return;
    }
    this.#flash.select(); // without the override every byte is a command of its own
    this.#received.push(this.#flash.exchange(value & 0xff));
    this.#flash.deselect();
  }

  #sendQuad(value: number): void {
    this.#addressed.push(value >>> 0);
    if (this.#addressed.length < 2) return;
    const [instruction, addressAndMode] = this.#addressed as [number, number];
    this.#addressed = [];
    if ((this.#register(SPI_CTRLR0) & 0xffffff) !== COMMAND_FIRST) {
      this.#flash.mistakes.push('a quad read with other fields than its command has');
    }
    this.#host.stall(28 * this.divider);
    this.#received.push(this.#flash.quadRead(instruction, addressAndMode >>> 8, addressAndMode & 0xff));
  }

  #register(offset: number): number {
    return this.#registers.get(offset) ?? 0;
  }
}

/** The flash's pins; only the select line's override does anything here. */
export class QspiPins extends BasePeripheral {
  readonly #ssi: Ssi;
  #select = 0;

  constructor(chip: RP2040, ssi: Ssi) {
    super(chip, 'IO_QSPI');
    this.#ssi = ssi;
  }

  override readUint32(offset: number): number {
    return offset === 0x0c ? this.#select : 0;
  }

  override writeUint32(offset: number, value: number): void {
    if (offset !== 0x0c) return;
    this.#select = value;
    this.#ssi.overrideSelect((value >>> 8) & 3);
  }
}
