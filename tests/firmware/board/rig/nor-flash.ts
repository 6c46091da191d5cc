import { limits } from '../../../../shared-protocol/limits.js';

/** A serial NOR chip of 2 MB with the commands of its data sheet (W25Q16JV, sections 7 and 8). */
export const flashBytes = 0x20_0000;
const ERASED = 0xff;

/** Busy times, typical and longest, in microseconds (same data sheet, section 9.6). */
export const flashBusyUs = {
  program: 400,
  programLongest: 3000,
  sectorErase: 45_000,
  sectorEraseLongest: 400_000,
  blockErase: 150_000,
  suspend: 20,
  writeStatus: 10_000,
} as const;

const command = {
  writeStatus: 0x01,
  pageProgram: 0x02,
  read: 0x03,
  writeDisable: 0x04,
  readStatus: 0x05,
  writeEnable: 0x06,
  sectorErase: 0x20,
  readStatus2: 0x35,
  uniqueId: 0x4b,
  suspend: 0x75,
  resume: 0x7a,
  blockErase: 0xd8,
  endContinuousRead: 0xff,
} as const;

const BLOCK_BYTES = 0x1_0000;
const STATUS_BUSY = 1;
const STATUS_WRITE_ENABLED = 2;
const STATUS_2_QUAD = 2;
const STATUS_2_SUSPENDED = 0x80;
const NO_ANSWER = 0xff;
/** The mode bits that keep a continuous read going: M5-4 = 10. */
const modeIsContinuous = (mode: number) => (mode & 0x30) === 0x20;

/** A program or an erase: what it makes of the bytes at a place. */
export interface Change {
  readonly kind: 'program' | 'erase' | 'status';
  readonly at: number;
  readonly after: Uint8Array;
}

interface Operation extends Change {
  leftUs: number;
}

/** What a power cut leaves of a changing bit: asked once for each, true for done. */
export type BitDone = () => boolean;

export class NorFlash {
  readonly bytes = new Uint8Array(flashBytes).fill(ERASED);
  readonly id = Uint8Array.of(0xe6, 0x61, 0x38, 0x52, 0x83, 0x4b, 0x5c, 0x2f);
  /** Programs and erases begun since it was made. */
  operations = 0;
  /** Writes of the status registers, which do not last for ever either. */
  statusWrites = 0;
  /** Erases of each sector. */
  readonly erases = new Uint32Array(flashBytes / limits.sectorBytes);
  /** Things that no driver should do, in words. */
  readonly mistakes: string[] = [];
  busyUs: { program: number; sectorErase: number } = {
    program: flashBusyUs.program,
    sectorErase: flashBusyUs.sectorErase,
  };
  /** Suspend is no command of every such chip. */
  knowsSuspend = true;
  /** A chip that no longer finishes what it began. */
  stuck = false;
  /** Called at the start of each program or erase. */
  onOperation: (change: Change) => void = () => {};

  readonly #wornOut = new Set<number>();
  #nowUs = 0;
  #operation: Operation | undefined;
  #suspended: Operation | undefined;
  #suspendingUntilUs = 0;
  #quad = false;
  #writeEnabled = false;
  #continuous = false;
  #selected = false;
  #sent: number[] = [];

  /** Whether reads from memory work: quad continuous read mode, and nothing under way. */
  get readable(): boolean {
    return this.#continuous && !this.#busy;
  }

  get suspended(): boolean {
    return this.#suspended !== undefined;
  }

  get busy(): boolean {
    return this.#busy;
  }

  get #busy(): boolean {
    return this.#operation !== undefined || this.#nowUs < this.#suspendingUntilUs;
  }

  /** From now on nothing can be changed in this sector; operations on it take their time and do nothing. */
  wearOut(sector: number): void {
    this.#wornOut.add(sector);
  }

  /** Lets time go on; an operation whose time is over is done. */
  advanceTo(nowUs: number): void {
    const passedUs = nowUs - this.#nowUs;
    this.#nowUs = nowUs;
    const operation = this.#operation;
    if (operation === undefined || this.stuck) return;
    operation.leftUs -= passedUs;
    if (operation.leftUs > 0) return;
    this.#finish(operation);
  }

  select(): void {
    this.#selected = true;
    this.#sent = [];
  }

  /** The end of a command: what it asked for begins. */
  deselect(): void {
    if (!this.#selected) return;
    this.#selected = false;
    this.#carryOut(this.#sent);
    this.#sent = [];
  }

  /** One byte each way on one wire. */
  exchange(byte: number): number {
    if (!this.#selected) {
      this.mistakes.push('a byte was clocked while the chip was not selected');
      return NO_ANSWER;
    }
    this.#sent.push(byte);
    return this.#answer(this.#sent);
  }

  /** A read on four wires with its command: the mode byte decides whether the next one needs it again. */
  quadRead(instruction: number, address: number, mode: number): number {
    if (instruction !== 0xeb) this.mistakes.push(`quad read by command 0x${instruction.toString(16)}`);
    if (!this.#quad) this.mistakes.push('a read on four wires before they were enabled');
    if (this.#busy) this.mistakes.push('a read while the chip was busy');
    this.#continuous = this.#quad && modeIsContinuous(mode);
    return new DataView(this.bytes.buffer).getUint32(address & (flashBytes - 4), true);
  }

  /** Does part of a change, bit by bit as `bitDone` says. */
  tear(change: Change, bitDone: BitDone): void {
    if (this.#isWornOut(change)) return;
    for (const [index, after] of change.after.entries()) {
      this.bytes[change.at + index] = tornByte(this.bytes[change.at + index]!, after, bitDone);
    }
  }

  /** The supply fails: what was under way is done in part, and the chip forgets its modes. */
  cutPower(bitDone: BitDone): void {
    for (const operation of [this.#operation, this.#suspended]) {
      if (operation !== undefined && operation.kind !== 'status') this.tear(operation, bitDone);
    }
    this.#operation = undefined;
    this.#suspended = undefined;
    this.#continuous = false;
    this.#writeEnabled = false;
    this.#selected = false;
  }

  /** The boot ROM's way in: ends a continuous read and reads as every chip can, or undefined while it is busy. */
  bootRead(length: number): Uint8Array | undefined {
    this.#continuous = false;
    this.#selected = false;
    return this.#busy ? undefined : this.bytes.slice(0, length);
  }

  #answer(sent: readonly number[]): number {
    if (this.#continuous) return NO_ANSWER;
    if (this.stuck && this.#operation !== undefined) return NO_ANSWER;
    switch (sent[0]) {
      case command.readStatus:
        return (this.#busy ? STATUS_BUSY : 0) | (this.#writeEnabled ? STATUS_WRITE_ENABLED : 0);
      case command.readStatus2:
        return (this.#quad ? STATUS_2_QUAD : 0) | (this.suspended ? STATUS_2_SUSPENDED : 0);
      case command.uniqueId:
        return sent.length > 5 ? this.id[sent.length - 6]! : NO_ANSWER;
      case command.read:
        return sent.length > 4 ? this.bytes[addressOf(sent) + sent.length - 5]! : NO_ANSWER;
      default:
        return NO_ANSWER;
    }
  }

  #carryOut(sent: readonly number[]): void {
    if (this.#continuous) {
      if (sent[0] === command.endContinuousRead) this.#continuous = false;
      else this.mistakes.push(`command 0x${sent[0]?.toString(16)} during a continuous read`);
      return;
    }
    if (
      this.#busy &&
      ![command.readStatus, command.readStatus2, command.suspend].includes(sent[0] as never)
    ) {
      this.mistakes.push(`command 0x${sent[0]?.toString(16)} while the chip was busy`);
      return;
    }
    if (sent[0] === command.writeEnable) this.#writeEnabled = true;
    else if (sent[0] === command.writeDisable) this.#writeEnabled = false;
    else if (sent[0] === command.suspend) this.#suspend();
    else if (sent[0] === command.resume) this.#resume();
    else if (sent[0] === command.writeStatus) this.#change(() => this.#writeStatus(sent));
    else if (sent[0] === command.pageProgram) this.#change(() => this.#program(sent));
    else if (sent[0] === command.sectorErase) this.#change(() => this.#erase(sent, limits.sectorBytes));
    else if (sent[0] === command.blockErase) this.#change(() => this.#erase(sent, BLOCK_BYTES));
  }

  /** Commands that change something need the write-enable just before. */
  #change(begin: () => Operation): void {
    if (!this.#writeEnabled) {
      this.mistakes.push('a change without write-enable');
      return;
    }
    this.#writeEnabled = false;
    if (this.suspended) this.mistakes.push('a change while another is suspended');
    const operation = begin();
    if (operation.kind !== 'status') {
      this.operations++;
      this.onOperation(operation);
    }
    this.#operation = operation;
  }

  #writeStatus(sent: readonly number[]): Operation {
    this.statusWrites++;
    this.#quad = ((sent[2] ?? 0) & STATUS_2_QUAD) !== 0;
    return { kind: 'status', at: 0, after: new Uint8Array(), leftUs: flashBusyUs.writeStatus };
  }

  /** Past a page's end the chip goes on at its beginning. */
  #program(sent: readonly number[]): Operation {
    const address = addressOf(sent);
    const page = address - (address % limits.pageBytes);
    const after = this.bytes.slice(page, page + limits.pageBytes);
    for (const [index, byte] of sent.slice(4).entries()) {
      const place = (address + index) % limits.pageBytes;
      after[place] = after[place]! & byte;
    }
    return { kind: 'program', at: page, after, leftUs: this.busyUs.program };
  }

  #erase(sent: readonly number[], size: number): Operation {
    const at = addressOf(sent) - (addressOf(sent) % size);
    for (let sector = at; sector < at + size; sector += limits.sectorBytes) {
      this.erases[sector / limits.sectorBytes]!++;
    }
    const leftUs = size === limits.sectorBytes ? this.busyUs.sectorErase : flashBusyUs.blockErase;
    return { kind: 'erase', at, after: new Uint8Array(size).fill(ERASED), leftUs };
  }

  #finish(operation: Operation): void {
    if (!this.#isWornOut(operation)) this.bytes.set(operation.after, operation.at);
    this.#operation = undefined;
  }

  /** The board erases sectors one at a time, and a program stays inside one. */
  #isWornOut({ at }: Change): boolean {
    return this.#wornOut.has(Math.floor(at / limits.sectorBytes));
  }

  #suspend(): void {
    if (!this.knowsSuspend || this.#operation === undefined || this.#operation.kind === 'status') return;
    this.#suspended = this.#operation;
    this.#operation = undefined;
    this.#suspendingUntilUs = this.#nowUs + flashBusyUs.suspend;
  }

  #resume(): void {
    if (this.#suspended === undefined) return;
    this.#operation = this.#suspended;
    this.#suspended = undefined;
  }
}

function addressOf(sent: readonly number[]): number {
  return ((sent[1]! << 16) | (sent[2]! << 8) | sent[3]!) & (flashBytes - 1);
}

function tornByte(before: number, after: number, bitDone: BitDone): number {
  let torn = before;
  for (let mask = 1; mask <= 0x80; mask <<= 1) {
    if (((before ^ after) & mask) !== 0 && bitDone()) torn ^= mask;
  }
  return torn;
}
