import type { PipePair } from './pipe.js';

/** GDB's numbers for kinds of stops (remote serial protocol, packet Z) and of a register. */
const HARDWARE_BREAKPOINT = 1;
const WRITE_WATCHPOINT = 2;
const PROGRAM_COUNTER = 15;

/** What is needed of the GDB remote serial protocol to let a machine run and to stop it. */
export class Debugger {
  readonly #pipe: PipePair;
  #come = '';

  constructor(pipe: PipePair) {
    this.#pipe = pipe;
    this.#ask('?');
    // Only who has asked which registers there are may set one.
    this.#ask('qXfer:features:read:target.xml:0,ff0');
  }

  breakAt(address: number): void {
    this.#ask(`Z${HARDWARE_BREAKPOINT},${address.toString(16)},2`);
  }

  /** Stops behind every write to a register, or no longer does. */
  watchWrites(address: number, watches: boolean): void {
    this.#ask(`${watches ? 'Z' : 'z'}${WRITE_WATCHPOINT},${address.toString(16)},4`);
  }

  get programCounter(): number {
    return Buffer.from(this.#ask(`p${PROGRAM_COUNTER.toString(16)}`), 'hex').readUInt32LE();
  }

  set programCounter(address: number) {
    const value = Buffer.alloc(4);
    value.writeUInt32LE(address);
    this.#ask(`P${PROGRAM_COUNTER.toString(16)}=${value.toString('hex')}`);
  }

  /** Runs until something stops the machine; gives the register where it was a write. */
  run(): number | undefined {
    const written = /watch:([0-9a-f]+)/.exec(this.#ask('c'))?.[1];
    return written === undefined ? undefined : Number.parseInt(written, 16);
  }

  /** One instruction, even where a breakpoint is. */
  step(): void {
    this.#ask('s');
  }

  /** A command to QEMU's monitor. */
  tell(command: string): void {
    let answer = this.#ask(`qRcmd,${Buffer.from(command).toString('hex')}`);
    while (answer.startsWith('O') && answer !== 'OK') answer = this.#next();
  }

  #ask(packet: string): string {
    const sum = Buffer.from(packet).reduce((all, byte) => (all + byte) & 0xff, 0);
    this.#pipe.write(`$${packet}#${sum.toString(16).padStart(2, '0')}`);
    return this.#next();
  }

  #next(): string {
    for (;;) {
      const [whole, content] = /\$([^#]*)#../.exec(this.#come) ?? [];
      if (whole !== undefined) {
        this.#come = this.#come.slice(this.#come.indexOf(whole) + whole.length);
        this.#pipe.write('+');
        return content!;
      }
      this.#come += this.#pipe.read();
    }
  }
}
