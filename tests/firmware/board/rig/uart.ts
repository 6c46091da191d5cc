import { BasePeripheral, type RP2040 } from 'rp2040js';
import { clockOf, type EmulatedAlarm } from './clock.js';

/** RP2040 datasheet section 4.2.8; the PL011's reference manual, chapter 3. */
const DR = 0x00;
const FR = 0x18;
const IBRD = 0x24;
const FBRD = 0x28;
const CR = 0x30;
const IFLS = 0x34;
const IMSC = 0x38;
const RIS = 0x3c;
const MIS = 0x40;
const ICR = 0x44;
const IRQ_UART0 = 20;

const FIFO_LENGTH = 32;
const INTERRUPT_RECEIVE = 1 << 4;
const INTERRUPT_SEND = 1 << 5;
const INTERRUPT_TIMEOUT = 1 << 6;
const TIMEOUT_BITS = 32;
const FRAME_BITS = 10;
const OVERRUN = 1 << 11;
/** Entries of the FIFO at which the interrupt is raised, by the setting of IFLS. */
const LEVELS = [4, 8, 16, 24, 28];

/** Error bits beside a received byte. */
export const damage = { framing: 1 << 8, parity: 1 << 9, break: 1 << 10 } as const;

/** UART0 with its two FIFOs, paced at its own baud rate; the emulator's sends at once and knows no errors. */
export class Uart extends BasePeripheral {
  /** A byte has left the chip. */
  onSent: (byte: number) => void = () => {};
  readonly #registers = new Map<number, number>();
  #received: number[] = [];
  #toSend: number[] = [];
  #sending = false;
  #raw = 0;
  #overrun = false;
  readonly #sendAlarm: EmulatedAlarm;
  readonly #timeoutAlarm: EmulatedAlarm;

  constructor(chip: RP2040) {
    super(chip, 'UART0');
    const clock = clockOf(chip);
    this.#sendAlarm = clock.createAlarm(() => this.#sent());
    this.#timeoutAlarm = clock.createAlarm(() => this.#raise(INTERRUPT_TIMEOUT));
  }

  /** 0 until the firmware has set its divider and switched it on. */
  get baud(): number {
    const divider = this.#register(IBRD) + this.#register(FBRD) / 64;
    return this.#register(CR) & 1 && divider > 0 ? this.rp2040.clkPeri / (16 * divider) : 0;
  }

  get #bitNanos(): number {
    return 1e9 / this.baud;
  }

  /** A byte has come in, with the error bits of `damage` if any. */
  receive(byte: number, errors = 0): void {
    if (this.baud === 0) return;
    if (this.#received.length === FIFO_LENGTH) {
      this.#overrun = true;
      return;
    }
    this.#received.push(byte | errors | (this.#overrun ? OVERRUN : 0));
    this.#overrun = false;
    if (this.#received.length >= LEVELS[(this.#register(IFLS) >>> 3) & 7]!) this.#raise(INTERRUPT_RECEIVE);
    this.#timeoutAlarm.schedule(TIMEOUT_BITS * this.#bitNanos);
  }

  override readUint32(offset: number): number {
    switch (offset) {
      case DR:
        return this.#take();
      case FR:
        return this.#flags;
      case RIS:
        return this.#raw;
      case MIS:
        return this.#raw & this.#register(IMSC);
      default:
        return this.#register(offset);
    }
  }

  override writeUint32(offset: number, value: number): void {
    if (offset === DR) this.#send(value & 0xff);
    else if (offset === ICR) this.#lower(this.rawWriteValue);
    else {
      this.#registers.set(offset, value);
      this.#report();
    }
  }

  get #flags(): number {
    const { length } = this.#received;
    return (
      (length === 0 ? 1 << 4 : 0) |
      (this.#toSend.length >= FIFO_LENGTH ? 1 << 5 : 0) |
      (length === FIFO_LENGTH ? 1 << 6 : 0) |
      (this.#toSend.length === 0 ? 1 << 7 : 0) |
      (this.#sending ? 1 << 3 : 0)
    );
  }

  #take(): number {
    const entry = this.#received.shift() ?? 0;
    if (this.#received.length < LEVELS[(this.#register(IFLS) >>> 3) & 7]!) this.#lower(INTERRUPT_RECEIVE);
    if (this.#received.length === 0) {
      this.#timeoutAlarm.cancel();
      this.#lower(INTERRUPT_TIMEOUT);
    }
    return entry;
  }

  #send(byte: number): void {
    if (this.#toSend.length >= FIFO_LENGTH) return;
    this.#toSend.push(byte);
    if (!this.#sending) this.#shiftOut();
  }

  #shiftOut(): void {
    this.#sending = true;
    this.#sendAlarm.schedule(FRAME_BITS * this.#bitNanos);
  }

  #sent(): void {
    const byte = this.#toSend.shift()!;
    this.#sending = false;
    if (this.#toSend.length > 0) this.#shiftOut();
    if (this.#toSend.length === LEVELS[this.#register(IFLS) & 7]!) this.#raise(INTERRUPT_SEND);
    this.onSent(byte);
  }

  #raise(interrupt: number): void {
    this.#raw |= interrupt;
    this.#report();
  }

  #lower(interrupts: number): void {
    this.#raw &= ~interrupts;
    this.#report();
  }

  #report(): void {
    this.rp2040.setInterrupt(IRQ_UART0, (this.#raw & this.#register(IMSC)) !== 0);
  }

  #register(offset: number): number {
    return this.#registers.get(offset) ?? 0;
  }
}
