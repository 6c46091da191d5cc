import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Debugger } from './debugger.js';
import { PipePair } from './pipe.js';
import { Qtest } from './qtest.js';

/** More of both than the real part has: the core alone needs 64 KiB of RAM (docs/system/arm/nrf.rst has the part's). */
export const memory = { flash: 0x10_0000, ram: 0x2_0000 } as const;

/** nRF51 reference manual 3.0: NVMC, GPIO, TIMER, UART. */
const registers = {
  nvmcConfig: 0x4001_e504,
  nvmcEraseAll: 0x4001_e50c,
  gpioOut: 0x5000_0504,
  gpioOutSet: 0x5000_0508,
  gpioOutClear: 0x5000_050c,
  uartReceived: 0x4000_2108,
  nvicEnable: 0xe000_e100,
  nvicForget: 0xe000_e280,
} as const;

/** Every change of an output or of the flash begins with a write to one of these. */
const watched = [registers.gpioOutSet, registers.gpioOutClear, registers.nvmcConfig] as const;

/** The chip's third timer, which the firmware leaves alone. */
const stopwatch = {
  start: 0x4000_a000,
  capture0: 0x4000_a040,
  event: (at: number) => 0x4000_a140 + 4 * at,
  interruptEnable: 0x4000_a304,
  interruptDisable: 0x4000_a308,
  bitMode: 0x4000_a508,
  prescaler: 0x4000_a510,
  compare: (at: number) => 0x4000_a540 + 4 * at,
  interrupt: 10,
} as const;

/** 64 ns an instruction, about the chip's 16 MHz; a machine that sleeps goes on to what wakes it at once. */
const timing = 'shift=6,sleep=off';
const INTERRUPT_ON_1 = 1 << 17;
const ERASED = 0xff;
const BLOCK_BYTES = 4096;
const BX_LR = 0x4770;
const NOWHERE = 0x6000_0000;
const VECTOR_OF_IRQ_0 = 0x40;
/** A byte given to the machine's main loop is in the UART after a few turns, or the UART takes none. */
const MOST_LOOKS = 1000;

/** Until then the firmware has no tick yet; its outputs are looked at afterwards. */
const QUIET_US = 20_000;

/** Why the machine stands still: `flash` when its controller is opened for a change, or closed after it. */
export type Stop = 'time' | 'reset' | 'pin' | 'flash';

/**
 * QEMU's `microbit` with an image in its flash, stopped. It runs until a time, a reset or a change of an output, and
 * its time stands still in between: an interrupt of its third timer runs into a breakpoint, and returns from there.
 */
export class Machine {
  readonly #folder = mkdtempSync(join(tmpdir(), 'treadle-microbit-'));
  readonly #process: ChildProcess;
  readonly #line: PipePair;
  readonly #pipes: PipePair[];
  readonly qtest: Qtest;
  readonly #debugger: Debugger;
  readonly #resetAt: number;
  readonly #pauseAt: number;
  readonly #returnAt: number;
  /** What the stopwatch's zero is on the rig's clock. */
  #sinceUs: number;
  #lastUs: number;
  #watches = false;
  /** The time that the machine has come to at least. */
  #reachedUs = 0;
  #quietUntilUs = 0;

  constructor(flash: Uint8Array, nowUs: number) {
    const [commands, debug, line] = ['qtest', 'gdb', 'line'].map(
      (name) => new PipePair(join(this.#folder, name)),
    );
    this.#pipes = [commands!, debug!, line!];
    this.#line = line!;
    this.#process = this.#start(commands!, debug!);
    commands!.connect();
    debug!.connect();
    line!.connect(true);
    this.qtest = new Qtest(commands!);
    this.#burn(flash);
    const word = (at: number) => Buffer.from(flash).readUInt32LE(at) & ~1;
    this.#resetAt = word(4);
    this.#pauseAt = word(VECTOR_OF_IRQ_0 + 4 * stopwatch.interrupt);
    this.#returnAt = new Uint16Array(flash.buffer, 0, flash.length >> 1).indexOf(BX_LR, 0x100) * 2;
    this.#debugger = new Debugger(debug!);
    this.#debugger.breakAt(this.#resetAt);
    this.#debugger.breakAt(this.#pauseAt);
    this.#sinceUs = nowUs;
    this.#lastUs = nowUs;
    this.reset(nowUs);
  }

  /** The chip's pin for a reset; RAM is kept. */
  reset(nowUs: number): void {
    this.#debugger.tell('system_reset');
    while (this.#debugger.programCounter !== this.#resetAt);
    this.#startStopwatch(nowUs);
  }

  /** The time on the rig's clock. */
  get nowUs(): number {
    this.qtest.setWord(stopwatch.capture0, 1);
    this.#lastUs = this.#sinceUs + this.qtest.word(stopwatch.compare(0));
    return this.#lastUs;
  }

  get outputs(): number {
    return this.qtest.word(registers.gpioOut);
  }

  /** What the chip has sent. */
  takeSent(): Buffer {
    return this.#line.poll();
  }

  /** A few bytes at once into the UART's queue of six. */
  receive(bytes: Uint8Array): void {
    this.#line.write(bytes);
    for (let looks = 0; looks < MOST_LOOKS && this.qtest.word(registers.uartReceived) === 0; looks++);
  }

  /**
   * Runs at most until `untilUs`. QEMU lets the time of a machine that is stopped by its debugger go on to whatever comes
   * next, as if it slept: a microsecond where the time is up, to the firmware's next tick where an output changed.
   */
  run(untilUs: number): Stop {
    if (this.#watches || untilUs <= this.#quietUntilUs) return this.#run(untilUs);
    const stop = this.#run(this.#quietUntilUs);
    if (stop !== 'time') return stop;
    this.#watch(true);
    return 'pin';
  }

  #run(untilUs: number): Stop {
    if (untilUs <= this.#reachedUs) return 'time';
    this.#compareAt(untilUs - this.#sinceUs);
    const written = this.#debugger.run();
    if (written !== undefined) {
      this.#finishWrite();
      return written === registers.nvmcConfig ? 'flash' : 'pin';
    }
    if (this.#debugger.programCounter === this.#pauseAt) {
      this.#reachedUs = this.nowUs;
      this.qtest.setWord(stopwatch.event(1), 0);
      this.qtest.setWord(registers.nvicForget, 1 << stopwatch.interrupt);
      this.#debugger.programCounter = this.#returnAt;
      return 'time';
    }
    this.#startStopwatch(this.#lastUs);
    return 'reset';
  }

  get isChangingFlash(): boolean {
    return this.qtest.word(registers.nvmcConfig) !== 0;
  }

  step(instructions: number): void {
    for (let count = 0; count < instructions; count++) this.#debugger.step();
  }

  /** Lets the processor go on where nothing is. */
  goAstray(): void {
    this.#debugger.programCounter = NOWHERE;
  }

  flash(): Uint8Array {
    return new Uint8Array(this.qtest.bytes(0, memory.flash));
  }

  kill(): void {
    process.kill(-this.#process.pid!, 'SIGKILL');
    for (const pipe of this.#pipes) pipe.close();
    rmSync(this.#folder, { recursive: true });
  }

  /** In a group of its own, and whatever becomes of it, nobody waits for its pipes for ever. */
  #start(commands: PipePair, debug: PipePair): ChildProcess {
    const qemu = [
      ...['qemu-system-arm', '-M', 'microbit', '-nodefaults', '-display', 'none', '-monitor', 'none', '-S'],
      ...['-global', `nrf51-soc.flash-size=${memory.flash}`, '-global', `nrf51-soc.sram-size=${memory.ram}`],
      ...['-accel', 'tcg', '-icount', timing, '-qtest', `pipe:${commands.path}`, '-qtest-log', '/dev/null'],
      ...['-chardev', `pipe,id=gdb,path=${debug.path}`, '-gdb', 'chardev:gdb'],
      ...['-chardev', `pipe,id=line,path=${this.#line.path}`, '-serial', 'chardev:line'],
    ];
    const script = 'timeout --foreground -s KILL 300 "$@" 2>/dev/null; : <>"$0/qtest.out" <>"$0/gdb.out"';
    return spawn('sh', ['-c', script, this.#folder, ...qemu], { stdio: 'ignore', detached: true });
  }

  /** Through the flash's own controller: a loader of QEMU's would write it again at each reset. */
  #burn(flash: Uint8Array): void {
    this.qtest.setWord(registers.nvmcConfig, 2);
    this.qtest.setWord(registers.nvmcEraseAll, 1);
    this.qtest.setWord(registers.nvmcConfig, 1);
    for (let at = 0; at < flash.length; at += BLOCK_BYTES) {
      const block = flash.subarray(at, at + BLOCK_BYTES);
      if (block.some((byte) => byte !== ERASED)) this.qtest.setBytes(at, block);
    }
    this.qtest.setWord(registers.nvmcConfig, 0);
  }

  /** With its instructions counted, QEMU stops before the write that it was to stop behind, and would never get past it. */
  #finishWrite(): void {
    this.#watch(false);
    this.#debugger.step();
    this.#watch(true);
  }

  #watch(watches: boolean): void {
    if (watches === this.#watches) return;
    this.#watches = watches;
    for (const register of watched) this.#debugger.watchWrites(register, watches);
  }

  #startStopwatch(nowUs: number): void {
    this.#watch(false);
    this.#sinceUs = nowUs;
    this.#lastUs = nowUs;
    this.#quietUntilUs = nowUs + QUIET_US;
    this.#reachedUs = nowUs;
    this.qtest.setWord(stopwatch.bitMode, 3);
    this.qtest.setWord(stopwatch.prescaler, 4);
    this.qtest.setWord(stopwatch.start, 1);
    this.qtest.setWord(registers.nvicEnable, 1 << stopwatch.interrupt);
    this.#debugger.step();
  }

  /** A comparator that equals the counter already matches while it is written: the interrupt is to hear of the new one. */
  #compareAt(us: number): void {
    this.qtest.setWord(stopwatch.interruptDisable, INTERRUPT_ON_1);
    for (const [at, value] of [us, us + 1].entries()) {
      this.qtest.setWord(stopwatch.compare(at + 1), value);
      this.qtest.setWord(stopwatch.event(at + 1), 0);
    }
    this.qtest.setWord(stopwatch.interruptEnable, INTERRUPT_ON_1);
  }
}
