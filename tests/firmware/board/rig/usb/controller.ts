import { BasePeripheral, type RP2040 } from 'rp2040js';
import { clockOf } from '../clock.js';
import { UsbBuffers } from './buffers.js';

/** RP2040 datasheet section 4.1.4; vendor's usb.h. */
const ADDR_ENDP = 0x00;
const MAIN_CTRL = 0x40;
const SOF_RD = 0x48;
const SIE_CTRL = 0x4c;
const SIE_STATUS = 0x50;
const BUFF_STATUS = 0x58;
const BUFF_CPU_SHOULD_HANDLE = 0x5c;
const EP_STALL_ARM = 0x68;
const MUXING = 0x74;
const PHY_DIRECT = 0x7c;
const PHY_DIRECT_OVERRIDE = 0x80;
const INTE = 0x90;
const INTS = 0x98;
const IRQ_USBCTRL = 5;

const STATUS = {
  reset: 1 << 19,
  connected: 1 << 16,
  lineIsJ: 1 << 2,
  setup: 1 << 17,
  resume: 1 << 11,
  suspended: 1 << 4,
} as const;
const INTERRUPT = { buffers: 1 << 4, reset: 1 << 12, suspend: 1 << 14, resume: 1 << 15, setup: 1 << 16 };
const PULL_UP = 1 << 16;
const EACH_CONTROL_BUFFER = 1 << 29;
const TO_PHY = 1;
const TO_PIN = 4;
const SOFTCON = 8;
const PHY_PULL_UP = 1 << 1;
const PHY_PULL_UP_BY_HAND = 1 << 2;
/** In place of D+ while the controller listens to pins (section 2.19.2, function 8). */
const PIN_FOR_LINE = 15;
const FUNCTION_USB = 8;
/** Erratum RP2040-E5: how long a chip B0 or B1 must see J after a reset before it takes part. */
const IDLE_NANOS = 800_000;

/** What a device says to one transaction; 'silent' is no answer at all. */
export type Answer =
  | { readonly said: 'ack' | 'nak' | 'stall' | 'silent' }
  | { readonly said: 'data'; readonly bytes: Uint8Array; readonly odd: boolean };

const silent: Answer = { said: 'silent' };

/**
 * The USB controller as a device, seen from the bus by one transaction at a time. The emulator's own accepts whatever
 * the firmware does: it knows no parity of packets, no stall, no address.
 */
export class UsbController extends BasePeripheral {
  /** The firmware came onto the bus, or left it. */
  onAttached: (attached: boolean) => void = () => {};
  /** Things that a real controller would not forgive, in words. */
  readonly mistakes: string[] = [];
  /** Erratum RP2040-E5, which chips B0 and B1 have. */
  staysInReset = true;
  readonly #memory: DataView;
  #registers = new Map<number, number>();
  #status = 0;
  #suspendChanged = false;
  readonly #buffers: UsbBuffers;
  #frame = 0;
  #attached = false;
  #hangs = false;
  /** What the laptop does with the bus: its reset has no other end than `endReset`. */
  #isInReset = false;
  #knowsReset = false;
  /** Others on the bus never let it rest. */
  #isBusy = false;
  #connected = false;
  #idleSinceNanos: number | undefined;

  constructor(chip: RP2040) {
    super(chip, 'USB');
    this.#memory = chip.usbDPRAMView;
    this.#buffers = new UsbBuffers(
      this.#memory,
      () => clockOf(chip).nanos,
      (words) => this.mistakes.push(words),
    );
  }

  get attached(): boolean {
    return this.#attached;
  }

  /** Held in reset, all of it is as after switching on. */
  reset(): void {
    this.#registers.clear();
    this.#status = 0;
    this.#suspendChanged = false;
    this.#buffers.reset();
    this.#hangs = false;
    this.#connected = false;
    this.#report();
    this.#attach();
  }

  /** Erratum E15: it hears and says nothing any more, until it is reset. */
  hang(): void {
    this.#hangs = true;
  }

  /** Both lines are low until `endReset`. */
  resetBus(): void {
    this.#isInReset = true;
    this.#knowsReset = false;
    this.#lookAtLine();
  }

  /** @param isBusy whether the bus is never idle from now on, because a hub repeats on it what goes to others */
  endReset(isBusy = false): void {
    this.#isInReset = false;
    this.#isBusy = isBusy;
    this.#lookAtLine();
  }

  frame(number: number): void {
    if (this.#hangs) return;
    this.#frame = number;
  }

  suspendBus(): void {
    if (this.#hangs) return;
    this.#status |= STATUS.suspended;
    this.#suspendChanged = true;
    this.#report();
  }

  resumeBus(): void {
    if (this.#hangs) return;
    this.#status = (this.#status & ~STATUS.suspended) | STATUS.resume;
    this.#report();
  }

  setup(address: number, bytes: Uint8Array): Answer {
    if (this.#isDeafTo(address)) return silent;
    for (const [at, byte] of bytes.entries()) this.#memory.setUint8(at, byte);
    this.#registers.set(EP_STALL_ARM, 0);
    this.#status |= STATUS.setup;
    this.#report();
    return { said: 'ack' };
  }

  /** The laptop asks for a packet; `acknowledged` is whether its thanks arrive. */
  in(address: number, endpoint: number, acknowledged = true): Answer {
    const refusal = this.#refusal(address, endpoint, 0);
    if (refusal !== undefined) return refusal;
    const packet = this.#buffers.take(endpoint);
    if (packet === undefined) return { said: 'nak' };
    if (acknowledged) this.#finish(() => this.#buffers.gone(endpoint, this.#tellsControl));
    return { said: 'data', ...packet };
  }

  /** The laptop sends a packet. */
  out(address: number, endpoint: number, bytes: Uint8Array, odd: boolean): Answer {
    const refusal = this.#refusal(address, endpoint, 1);
    if (refusal !== undefined) return refusal;
    const room = this.#buffers.room(endpoint);
    if (room === undefined) return { said: 'nak' };
    if (room.odd !== odd) return { said: 'ack' }; // taken for a repeat
    if (bytes.length > room.bytes) return silent;
    this.#finish(() => this.#buffers.put(endpoint, bytes, this.#tellsControl));
    return { said: 'ack' };
  }

  override readUint32(offset: number): number {
    switch (offset) {
      case SOF_RD:
        return this.#frame;
      case SIE_STATUS:
        return (
          this.#status | (this.#seesLine ? STATUS.lineIsJ : 0) | (this.#isConnected ? STATUS.connected : 0)
        );
      case BUFF_STATUS:
        return this.#buffers.done;
      case BUFF_CPU_SHOULD_HANDLE:
        return this.#buffers.doneSecond;
      case INTS:
        return this.#raised & this.#register(INTE);
      default:
        return this.#register(offset);
    }
  }

  override writeUint32(offset: number, value: number): void {
    if (offset === SIE_STATUS) {
      this.#status &= ~(value & (STATUS.reset | STATUS.setup | STATUS.resume));
      if (value & STATUS.suspended) this.#suspendChanged = false;
    } else if (offset === BUFF_STATUS) this.#buffers.heed(value);
    else this.#registers.set(offset, value);
    this.#report();
    if (offset === SIE_CTRL || offset === MUXING) this.#attach();
  }

  /** The emulator tells of each write to the shared memory. */
  DPRAMUpdated(offset: number, word: number): void {
    this.#buffers.wrote(offset, word);
  }

  get #raised(): number {
    return (
      (this.#buffers.done !== 0 ? INTERRUPT.buffers : 0) |
      (this.#status & STATUS.reset ? INTERRUPT.reset : 0) |
      (this.#status & STATUS.setup ? INTERRUPT.setup : 0) |
      (this.#status & STATUS.resume ? INTERRUPT.resume : 0) |
      (this.#suspendChanged ? INTERRUPT.suspend : 0)
    );
  }

  #report(): void {
    this.rp2040.setInterrupt(IRQ_USBCTRL, (this.#raised & this.#register(INTE)) !== 0);
  }

  /** The pull-up makes a device: the controller's own way to the line, or by hand. */
  #attach(): void {
    const byHand =
      (this.#register(PHY_DIRECT) & PHY_PULL_UP) !== 0 &&
      (this.#register(PHY_DIRECT_OVERRIDE) & PHY_PULL_UP_BY_HAND) !== 0;
    const attached =
      (this.#register(SIE_CTRL) & PULL_UP) !== 0 &&
      (this.#register(MAIN_CTRL) & 1) !== 0 &&
      (this.#register(MUXING) & SOFTCON) !== 0 &&
      ((this.#register(MUXING) & TO_PHY) !== 0 || byHand);
    const changed = attached !== this.#attached;
    this.#attached = attached;
    this.#lookAtLine();
    if (changed) this.onAttached(attached);
  }

  get #hearsBus(): boolean {
    return this.#attached && (this.#register(MUXING) & TO_PHY) !== 0;
  }

  /** Whether the line is in J as the controller sees it: at the bus, or at the pin in its place. */
  get #seesLine(): boolean {
    if (this.#hearsBus) return !this.#isInReset;
    const pin = this.rp2040.gpio[PIN_FOR_LINE]!;
    return (this.#register(MUXING) & TO_PIN) !== 0 && pin.functionSelect === FUNCTION_USB && pin.inputValue;
  }

  /** Something changed at the line, or at what the controller sees of it. */
  #lookAtLine(): void {
    if (this.#hangs) return;
    const idles = this.#seesLine && !(this.#hearsBus && this.#isBusy);
    this.#connected = this.#isConnected;
    if (!idles) this.#idleSinceNanos = undefined;
    else this.#idleSinceNanos ??= clockOf(this.rp2040).nanos;
    if (!this.#hearsBus || !this.#isInReset) return;
    this.#connected = false;
    if (this.#knowsReset) return;
    this.#knowsReset = true;
    this.#status |= STATUS.reset;
    this.#status &= ~STATUS.suspended;
    this.#report();
  }

  get #isConnected(): boolean {
    if (this.#connected) return true;
    if (!this.staysInReset) return this.#hearsBus && !this.#isInReset;
    const idleNanos =
      this.#idleSinceNanos === undefined ? 0 : clockOf(this.rp2040).nanos - this.#idleSinceNanos;
    return idleNanos >= IDLE_NANOS;
  }

  #isDeafTo(address: number): boolean {
    return (
      this.#hangs || !this.#hearsBus || !this.#isConnected || address !== (this.#register(ADDR_ENDP) & 0x7f)
    );
  }

  #refusal(address: number, endpoint: number, direction: 0 | 1): Answer | undefined {
    if (this.#isDeafTo(address)) return silent;
    if (!this.#buffers.isOpen(endpoint, direction)) return silent;
    const armed = endpoint > 0 || (this.#register(EP_STALL_ARM) & (1 << direction)) !== 0;
    return armed && this.#buffers.stalls(endpoint, direction) ? { said: 'stall' } : undefined;
  }

  get #tellsControl(): boolean {
    return (this.#register(SIE_CTRL) & EACH_CONTROL_BUFFER) !== 0;
  }

  #finish(end: () => void): void {
    end();
    this.#report();
  }

  #register(offset: number): number {
    return this.#registers.get(offset) ?? 0;
  }
}
