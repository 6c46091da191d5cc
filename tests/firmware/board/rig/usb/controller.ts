import { BasePeripheral, type RP2040 } from 'rp2040js';
import { clockOf } from '../clock.js';

/** RP2040 datasheet section 4.1.4; vendor's usb.h. */
const ADDR_ENDP = 0x00;
const MAIN_CTRL = 0x40;
const SOF_RD = 0x48;
const SIE_CTRL = 0x4c;
const SIE_STATUS = 0x50;
const BUFF_STATUS = 0x58;
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

/** The shared memory, section 4.1.2.5. */
const BUFFER_WORDS = 0x80;
const BUFFER_WORDS_END = 0x100;
const CONTROL_BUFFER = 0x100;
const FULL = 1 << 15;
const ODD = 1 << 13;
const STALL = 1 << 11;
const AVAILABLE = 1 << 10;
const LENGTH = 0x3ff;
const ENDPOINT_ENABLED = 1 << 31;
const ENDPOINT_DOUBLE = 1 << 30;
const ENDPOINT_EACH_BUFFER = 1 << 29;
const ENDPOINT_BUFFER = 0xffff;
/** Section 4.1.2.7.1: AVAILABLE no sooner than this after the rest of a buffer's word, at 125 MHz. */
const SETTLE_NANOS = (12 * 1e9) / 125e6;

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
  #buffersDone = 0;
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
  #lastWrites = new Map<number, { word: number; nanos: number }>();

  constructor(chip: RP2040) {
    super(chip, 'USB');
    this.#memory = chip.usbDPRAMView;
  }

  get attached(): boolean {
    return this.#attached;
  }

  /** Held in reset, all of it is as after switching on. */
  reset(): void {
    this.#registers.clear();
    this.#status = 0;
    this.#suspendChanged = false;
    this.#buffersDone = 0;
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
    const word = this.#word(endpoint, 0);
    if ((word & AVAILABLE) === 0) return { said: 'nak' };
    if ((word & FULL) === 0) this.#mistake(endpoint, 'an empty buffer was offered for sending');
    const from = this.#bufferAt(endpoint, 0);
    const bytes = new Uint8Array(this.#memory.buffer.slice(from, from + (word & LENGTH)));
    if (acknowledged) this.#finish(endpoint, 0, word & ~(AVAILABLE | FULL));
    return { said: 'data', bytes, odd: (word & ODD) !== 0 };
  }

  /** The laptop sends a packet. */
  out(address: number, endpoint: number, bytes: Uint8Array, odd: boolean): Answer {
    const refusal = this.#refusal(address, endpoint, 1);
    if (refusal !== undefined) return refusal;
    const word = this.#word(endpoint, 1);
    if ((word & AVAILABLE) === 0) return { said: 'nak' };
    if ((word & FULL) !== 0) this.#mistake(endpoint, 'a full buffer was offered for receiving');
    if (((word & ODD) !== 0) !== odd) return { said: 'ack' }; // taken for a repeat
    if (bytes.length > (word & LENGTH)) return silent;
    const into = this.#bufferAt(endpoint, 1);
    for (const [at, byte] of bytes.entries()) this.#memory.setUint8(into + at, byte);
    this.#finish(endpoint, 1, (word & ODD) | FULL | bytes.length);
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
        return this.#buffersDone;
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
    } else if (offset === BUFF_STATUS) this.#buffersDone &= ~value;
    else this.#registers.set(offset, value);
    this.#report();
    if (offset === SIE_CTRL || offset === MUXING) this.#attach();
  }

  /** The emulator tells of each write to the shared memory. */
  DPRAMUpdated(offset: number, word: number): void {
    if (offset < BUFFER_WORDS || offset >= BUFFER_WORDS_END) return;
    const { nanos } = clockOf(this.rp2040);
    const before = this.#lastWrites.get(offset);
    const isSettled =
      before !== undefined && before.word === (word & ~AVAILABLE) && nanos - before.nanos >= SETTLE_NANOS;
    if ((word & AVAILABLE) !== 0 && !isSettled)
      this.mistakes.push(`USB buffer word 0x${offset.toString(16)} was made available before it had settled`);
    this.#lastWrites.set(offset, { word, nanos });
  }

  get #raised(): number {
    return (
      (this.#buffersDone !== 0 ? INTERRUPT.buffers : 0) |
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
    if (endpoint > 0 && (this.#control(endpoint, direction) & ENDPOINT_ENABLED) === 0) return silent;
    if (endpoint > 0 && this.#control(endpoint, direction) & ENDPOINT_DOUBLE)
      this.#mistake(endpoint, 'double buffers are not modelled');
    const armed = endpoint > 0 || (this.#register(EP_STALL_ARM) & (1 << direction)) !== 0;
    return armed && this.#word(endpoint, direction) & STALL ? { said: 'stall' } : undefined;
  }

  #finish(endpoint: number, direction: 0 | 1, word: number): void {
    this.#memory.setUint32(BUFFER_WORDS + 8 * endpoint + 4 * direction, word, true);
    const tells =
      endpoint === 0
        ? this.#register(SIE_CTRL) & EACH_CONTROL_BUFFER
        : this.#control(endpoint, direction) & ENDPOINT_EACH_BUFFER;
    if (tells) this.#buffersDone |= 1 << (2 * endpoint + direction);
    this.#report();
  }

  #word(endpoint: number, direction: 0 | 1): number {
    return this.#memory.getUint32(BUFFER_WORDS + 8 * endpoint + 4 * direction, true);
  }

  #control(endpoint: number, direction: 0 | 1): number {
    return this.#memory.getUint32(8 * endpoint + 4 * direction, true);
  }

  #bufferAt(endpoint: number, direction: 0 | 1): number {
    return endpoint === 0 ? CONTROL_BUFFER : this.#control(endpoint, direction) & ENDPOINT_BUFFER;
  }

  #register(offset: number): number {
    return this.#registers.get(offset) ?? 0;
  }

  #mistake(endpoint: number, words: string): void {
    this.mistakes.push(`USB endpoint ${endpoint}: ${words}`);
  }
}
