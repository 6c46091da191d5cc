import { BasePeripheral, GPIOPinState, RP2040 } from 'rp2040js';
import { fillBootRom, resetUsbBootBreak } from './boot-rom-functions.js';
import { clockOf, type EmulatedClock } from './clock.js';
import { FlashCache } from './flash-cache.js';
import { flashBytes, type NorFlash } from './nor-flash.js';
import { pins } from './pins.js';
import { Pwm } from './pwm.js';
import { Resets } from './resets.js';
import { QspiPins, Ssi } from './ssi.js';
import { correctSystick } from './systick.js';
import { Timer } from './timer.js';
import { Uart } from './uart.js';
import { UsbController } from './usb/controller.js';

const XIP = 0x1000_0000;
const XIP_END = 0x1400_0000;
const XIP_CACHED_END = 0x1100_0000;
const RAM_BYTES = 264 * 1024;
const RAM = 0x2000_0000;
const RAM_END = RAM + RAM_BYTES;
const HARD_FAULT = 3;
const RESETS_USBCTRL = 1 << 24;
/** ARMv6-M: 15 cycles into an exception and as many out of it (Cortex-M0+ manual, section 3.6). */
const EXCEPTION_CYCLES = 15;
/** The ring oscillator that a chip starts on (section 2.17). */
const RING_HZ = 6.5e6;

/** The watchdog as the emulator has it, as far as the rig needs it. */
interface Watchdog {
  scratchData: Uint32Array;
  reason: number;
  onWatchdogTrigger: () => void;
  /** Goes round without end if it is left running at 0. */
  timer: { enable: boolean };
}

/** Why the chip was reset: the CHIP_RESET register, section 2.12.8. */
export const resetBits = { power: 1 << 8, pin: 1 << 16, watchdog: 0 } as const;

class ChipReset extends BasePeripheral {
  static of(chip: RP2040, bits: number): ChipReset {
    const register = new ChipReset(chip, 'VREG_AND_CHIP_RESET');
    register.readUint32 = (offset) => (offset === 8 ? bits : 0);
    register.writeUint32 = () => {};
    return register;
  }
}

/** Which chip it is, section 2.20.2: the maker's part number in the lower bits (vendor's sysinfo.h). */
const CHIP_PART = 0x0000_2927;

class ChipId extends BasePeripheral {
  static of(chip: Chip): ChipId {
    const register = new ChipId(chip, 'SYSINFO');
    register.readUint32 = (offset) => (offset === 0 ? ((chip.revision << 28) | CHIP_PART) >>> 0 : 0);
    return register;
  }
}

/**
 * An RP2040 from one reset to the next: the emulator with the parts replaced that matter here (flash, serial
 * line, timer, PWM, resets), the time that the flash takes, and faults where the emulator only warns.
 */
export class Chip extends RP2040 {
  readonly time: EmulatedClock;
  readonly uart0: Uart;
  readonly usb: UsbController;
  readonly timer: Timer;
  readonly pwmOut: Pwm;
  readonly cache = new FlashCache();
  /** Things that a real chip would not forgive, in words. */
  readonly mistakes: string[] = [];
  /** What it says of itself: 1 is B0 and B1, 2 is B2. */
  revision = 1;
  /** The rig's time of this chip's first instruction, in microseconds. */
  sinceUs = 0;
  /** Instructions carried out. */
  instructions = 0;
  /** The processor has stopped for good after a fault within a fault; only the watchdog helps. */
  lockedUp = false;
  /** Set when the watchdog asks for a reset, or the program for the boot ROM's drive. */
  resetWanted = false;
  /** What the program asked the boot ROM's drive for: pins that are to blink, and interfaces that are not to be there. */
  bootDriveWanted: { readonly blinking: number; readonly without: number } | undefined;

  readonly #ssi: Ssi;
  readonly #resets: Resets;
  readonly #flashView: DataView;
  readonly #ramView: DataView;
  #stallCycles = 0;
  #lastLine = -1;
  #faulted = false;

  constructor(flash: NorFlash, why: number, watchdogBefore?: Watchdog) {
    super();
    this.time = clockOf(this);
    this.#flashView = new DataView(flash.bytes.buffer);
    this.#ramView = new DataView(this.sram.buffer);
    this.#ssi = new Ssi(this, flash, {
      nowUs: () => this.exactUs,
      stall: (cycles) => this.stall(cycles),
      touched: () => {
        this.#lastLine = -1;
      },
    });
    this.#resets = Resets.for(this);
    this.uart0 = new Uart(this);
    this.usb = new UsbController(this);
    this.#resets.onHeld = (bits) => {
      if (bits & RESETS_USBCTRL) this.usb.reset();
    };
    this.timer = new Timer(this);
    this.pwmOut = Pwm.for(this);
    this.#replaceParts(why);
    this.#keepWatchdog(watchdogBefore);
    this.#correctProcessor();
    this.clkSys = RING_HZ;
    const warn = (_part: string, message: string) => this.#complain(message);
    this.logger = { debug() {}, info() {}, warn, error: warn };
    fillBootRom(this);
    this.onBreak = (code) => {
      if (code === resetUsbBootBreak) this.#leave();
      else this.#faulted = true;
    };
  }

  /** The rig's time, to a fraction of a microsecond. */
  get exactUs(): number {
    return this.sinceUs + this.time.nanos / 1000;
  }

  /** How long nothing is going to happen in it by itself; 0 while it works. */
  get sleepUs(): number {
    const { core, time } = this;
    const works = !core.waiting || this.#hasInterrupt;
    if (works && !this.lockedUp) return 0;
    return time.nextAlarm === null ? Number.POSITIVE_INFINITY : time.nanosToNextAlarm / 1000;
  }

  get watchdog(): Watchdog {
    return this.peripherals[0x40058] as unknown as Watchdog;
  }

  /** Makes the processor wait. */
  stall(cycles: number): void {
    this.#stallCycles += cycles;
  }

  /** Runs until this many nanoseconds after the reset, or until a reset is wanted. */
  runUntil(nanos: number): void {
    const { core, time } = this;
    while (time.nanos < nanos && !this.resetWanted) {
      if (this.lockedUp || core.waiting) {
        this.#idle(nanos);
        continue;
      }
      const cycles = core.executeInstruction() + this.#stallCycles;
      this.#stallCycles = 0;
      this.instructions++;
      time.tick((cycles * 1e9) / this.clkSys);
      if (this.#faulted) this.#fault();
    }
  }

  /**
   * The boot ROM keeps what it was asked for in scratch registers and resets the chip by the watchdog (bootrom_main.c):
   * nothing else may reset it on the way.
   */
  #leave(): void {
    const { core, watchdog, gpio } = this;
    const [blinking, without] = [core.registers[0]!, core.registers[1]!];
    if (watchdog.timer.enable) this.mistakes.push('the boot ROM was called with the watchdog running');
    if (!core.PM) this.mistakes.push('the boot ROM was called with interrupts on');
    if (gpio[pins.LAMP_RELAY]!.value === GPIOPinState.High)
      this.mistakes.push('the boot ROM was called with the lamp on');
    watchdog.scratchData[0] = blinking;
    watchdog.scratchData[1] = without;
    this.bootDriveWanted = { blinking, without };
    this.resetWanted = true;
  }

  get #hasInterrupt(): boolean {
    const { core } = this;
    return core.pendingSystick || (core.pendingInterrupts & core.enabledInterrupts) !== 0;
  }

  /** Nothing to carry out until an interrupt is there, whether or not it is held off (ARMv6-M, WFI). */
  #idle(nanos: number): void {
    const { core, time } = this;
    if (!this.lockedUp && this.#hasInterrupt) {
      core.waiting = false;
      core.interruptsUpdated = true;
      return;
    }
    const left = nanos - time.nanos;
    time.tick(time.nextAlarm === null ? left : Math.min(left, time.nanosToNextAlarm));
  }

  override readUint16(address: number): number {
    if (address >= XIP && address < XIP_CACHED_END) {
      this.#readFlash(address);
      return this.#flashView.getUint16(address & (flashBytes - 2), true);
    }
    return super.readUint16(address);
  }

  override readUint32(address: number): number {
    const at = address >>> 0;
    // First what is read most: the emulator's own ways to a word of RAM are long.
    if (at >= RAM && at < RAM_END && at % 4 === 0) return this.#ramView.getUint32(at - RAM, true);
    if (at >= XIP && at < XIP_END) {
      if (at % 4 !== 0) this.#faulted = true;
      this.#readFlash(at);
      return this.#flashView.getUint32(at & (flashBytes - 4), true);
    }
    if (at % 4 !== 0) {
      this.#faulted = true;
      return 0;
    }
    return super.readUint32(at);
  }

  override readUint8(address: number): number {
    if (address >= XIP && address < XIP_END) {
      this.#readFlash(address);
      return this.#flashView.getUint8(address & (flashBytes - 1));
    }
    return super.readUint8(address);
  }

  override writeUint32(address: number, value: number): void {
    const at = address >>> 0;
    if (at >= RAM && at < RAM_END && at % 4 === 0) {
      this.#ramView.setUint32(at - RAM, value, true);
      return;
    }
    if ((at >= XIP && at < XIP_END) || at % 4 !== 0) {
      this.#faulted = true;
      return;
    }
    super.writeUint32(at, value);
  }

  override findPeripheral(address: number) {
    const place = (address >>> 14) << 2;
    const part = this.peripherals[place]!;
    if (part !== undefined && this.#resets.holds(place))
      this.mistakes.push(`0x${address.toString(16)} was used while held in reset`);
    return part;
  }

  /** A line that was read last is still there, unless the way to the flash was touched since. */
  #readFlash(address: number): void {
    const line = address >>> 3;
    if (line === this.#lastLine && address < XIP_CACHED_END) return;
    this.#lastLine = line;
    if (!this.#ssi.readsMemory) {
      this.mistakes.push(
        `0x${address.toString(16)} was read while the flash was no memory (PC 0x${this.core.PC.toString(16)})`,
      );
      this.#faulted = true;
    }
    const { divider } = this.#ssi;
    this.#stallCycles +=
      address < XIP_CACHED_END ? this.cache.readCycles(address, divider) : FlashCache.wordCycles(divider);
  }

  #replaceParts(why: number): void {
    const parts = this.peripherals;
    parts[0x40000] = ChipId.of(this);
    parts[0x18000] = this.#ssi;
    parts[0x40018] = new QspiPins(this, this.#ssi);
    parts[0x4000c] = this.#resets;
    parts[0x40034] = this.uart0;
    parts[0x40050] = this.pwmOut;
    parts[0x40054] = this.timer;
    parts[0x40064] = ChipReset.of(this, why);
    parts[0x50110] = this.usb;
    Object.defineProperty(this, 'usbCtrl', { value: this.usb });
  }

  #keepWatchdog(before: Watchdog | undefined): void {
    if (before !== undefined) {
      this.watchdog.scratchData.set(before.scratchData);
      this.watchdog.reason = before.reason;
    }
    this.watchdog.onWatchdogTrigger = () => {
      this.resetWanted = true;
      this.watchdog.timer.enable = false;
    };
  }

  /** Two things that the emulator does otherwise than the processor: waking, and the time that exceptions take. */
  #correctProcessor(): void {
    const { core } = this;
    correctSystick(this);
    core.setInterrupt = (irq, value) => {
      const bit = 1 << irq;
      if (!value) {
        core.pendingInterrupts &= ~bit;
        return;
      }
      core.pendingInterrupts |= bit;
      core.interruptsUpdated = true;
    };
    const enter = core.exceptionEntry.bind(core);
    core.exceptionEntry = (exception) => {
      this.stall(EXCEPTION_CYCLES);
      enter(exception);
    };
    const leave = core.exceptionReturn.bind(core);
    core.exceptionReturn = (how) => {
      this.stall(EXCEPTION_CYCLES);
      leave(how);
    };
  }

  /** The emulator warns where a bus answers with an error. */
  #complain(message: string): void {
    if (/invalid memory|undefined address|not implemented yet/i.test(message)) this.#faulted = true;
    else if (!/^Yield|SEV/.test(message)) this.mistakes.push(message);
  }

  /** ARMv6-M, B1.5.15: a fault while one is handled, or with no stack left for it, locks the processor up. */
  #fault(): void {
    const { core } = this;
    this.#faulted = false;
    const stackIsThere = core.SP - RAM > 0x20 && core.SP - RAM <= RAM_BYTES;
    if (core.IPSR === HARD_FAULT || !stackIsThere) {
      this.lockedUp = true;
      return;
    }
    core.exceptionEntry(HARD_FAULT);
    if (this.#faulted) this.lockedUp = true;
    this.#faulted = false;
  }
}
