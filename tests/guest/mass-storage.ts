import { type BootDisk, SECTOR_BYTES } from './boot-disk.js';
import type { Ended } from './usb-transfers.js';
import { failure, type Submission } from './usbip-packets.js';

/** USB Mass Storage Class, Bulk-Only Transport 1.0, tables 5.1 and 5.2. */
const COMMAND_BYTES = 31;
const COMMAND_SIGN = 0x4342_5355;
const STATUS_SIGN = 0x5342_5355;
const DATA_IN = 0x80;
/** SCSI Primary and Block Commands, those that a driver asks of a disk. */
const TEST_READY = 0x00;
const REQUEST_SENSE = 0x03;
const INQUIRY = 0x12;
const MODE_SENSE = 0x1a;
const START_STOP = 0x1b;
const PREVENT_REMOVAL = 0x1e;
const READ_CAPACITY = 0x25;
const READ = 0x28;
const WRITE = 0x2a;
const SYNCHRONIZE = 0x35;
const ILLEGAL_REQUEST = 5;
const INVALID_COMMAND = 0x20;
const silently: readonly number[] = [TEST_READY, START_STOP, PREVENT_REMOVAL, SYNCHRONIZE];

const nothing = new Uint8Array(0);
/** As the boot ROM's own, with the disk alone (pico-bootrom-rp2040, bootrom/usb_boot_device.c): 2e8a:0003, endpoints 1 in and 2 out. */
export const driveDescriptor = Uint8Array.from([
  18, 1, 0, 2, 0, 0, 0, 64, 0x8a, 0x2e, 3, 0, 0, 1, 0, 0, 0, 1,
]);
const configuration = Uint8Array.from([
  ...[9, 2, 32, 0, 1, 1, 0, 0x80, 0xfa],
  ...[9, 4, 0, 0, 2, 8, 6, 0x50, 0],
  ...[7, 5, 0x81, 2, 64, 0, 0, 7, 5, 2, 2, 64, 0, 0],
]);

/** A write that is under way. */
interface Coming {
  leftBytes: number;
  readonly parts: Uint8Array[];
  readonly tag: number;
}

interface Waiting {
  readonly submission: Submission;
  readonly ended: Ended;
}

/** The boot ROM's drive at the far end of USB/IP, by whole transfers. */
export class MassStorage {
  readonly #disk: BootDisk;
  /** What is to be sent, data and then the status. */
  #answers: (Uint8Array | 'stall')[] = [];
  readonly #asked: Waiting[] = [];
  #comes: Coming | undefined;
  #sense = [0, 0];

  constructor(disk: BootDisk) {
    this.#disk = disk;
  }

  submit(submission: Submission, ended: Ended): void {
    if (submission.endpoint === 0) this.#control(submission, ended);
    else if (submission.isIn) {
      this.#asked.push({ submission, ended });
      this.#answer();
    } else {
      ended(0, nothing, submission.data.length);
      this.#take(submission.data);
      this.#answer();
    }
  }

  takeBack(number: number): boolean {
    const at = this.#asked.findIndex(({ submission }) => submission.number === number);
    if (at >= 0) this.#asked.splice(at, 1);
    return at >= 0;
  }

  /** What is not asked for here is granted without a word: an address, a configuration, the end of a halt. */
  #control({ setup, lengthBytes, isIn }: Submission, ended: Ended): void {
    const answer = isIn ? controlAnswer(setup) : nothing;
    if (answer === undefined) ended(failure.stalled, nothing, 0);
    else ended(0, answer.subarray(0, lengthBytes), 0);
  }

  #take(data: Uint8Array): void {
    if (this.#comes !== undefined) this.#takePart(data, this.#comes);
    else this.#obey(Buffer.from(data));
  }

  #takePart(data: Uint8Array, comes: Coming): void {
    comes.parts.push(data);
    comes.leftBytes -= data.length;
    if (comes.leftBytes > 0) return;
    this.#comes = undefined;
    this.#answers.push(status(comes.tag, 0));
    const whole = Buffer.concat(comes.parts);
    this.#answer();
    for (let at = 0; at < whole.length; at += SECTOR_BYTES)
      this.#disk.write(whole.subarray(at, at + SECTOR_BYTES));
  }

  #obey(block: Buffer): void {
    if (block.length !== COMMAND_BYTES || block.readUInt32LE(0) !== COMMAND_SIGN)
      throw new Error(`the driver sent ${block.length} bytes where a command should be`);
    const tag = block.readUInt32LE(4);
    const wantedBytes = block.readUInt32LE(8);
    const command = block.subarray(15);
    if (command[0] === WRITE) {
      this.#comes = { leftBytes: wantedBytes, parts: [], tag };
      return;
    }
    const answer = this.#answerTo(command);
    const isIn = (block[12]! & DATA_IN) !== 0 && wantedBytes > 0;
    if (answer === undefined) this.#sense = [ILLEGAL_REQUEST, INVALID_COMMAND];
    if (isIn) this.#answers.push(answer?.subarray(0, wantedBytes) ?? 'stall');
    this.#answers.push(status(tag, answer === undefined ? 1 : 0));
  }

  /** Undefined for a command that it does not know. */
  #answerTo(command: Buffer): Uint8Array | undefined {
    const code = command[0]!;
    if (silently.includes(code)) return nothing;
    if (code === REQUEST_SENSE) return this.#takeSense();
    if (code === INQUIRY && command[1] === 0)
      return Buffer.concat([
        Buffer.from([0, 0x80, 2, 2, 31, 0, 0, 0]),
        Buffer.from('RPI     RP2             3   '),
      ]);
    if (code === MODE_SENSE) return Uint8Array.of(3, 0, 0, 0);
    if (code === READ_CAPACITY) {
      const capacity = Buffer.alloc(8);
      capacity.writeUInt32BE(this.#disk.sectors - 1, 0);
      capacity.writeUInt32BE(SECTOR_BYTES, 4);
      return capacity;
    }
    if (code !== READ) return undefined;
    const from = command.readUInt32BE(2);
    const sectors = Array.from({ length: command.readUInt16BE(7) }, (_, at) => this.#disk.read(from + at));
    return Buffer.concat(sectors);
  }

  #takeSense(): Uint8Array {
    const [key, code] = this.#sense;
    this.#sense = [0, 0];
    return Uint8Array.from([0x70, 0, key!, 0, 0, 0, 0, 10, 0, 0, 0, 0, code!, 0, 0, 0, 0, 0]);
  }

  /** A transfer gets as much as it asked for; what ends short of that ends it. */
  #answer(): void {
    while (this.#asked[0] !== undefined && this.#answers[0] !== undefined) {
      const { submission, ended } = this.#asked.shift()!;
      const next = this.#answers.shift()!;
      if (next === 'stall') {
        ended(failure.stalled, nothing, 0);
        continue;
      }
      if (next.length > submission.lengthBytes) this.#answers.unshift(next.subarray(submission.lengthBytes));
      ended(0, next.subarray(0, submission.lengthBytes), 0);
    }
  }
}

function status(tag: number, failed: 0 | 1): Uint8Array {
  const block = Buffer.alloc(13);
  block.writeUInt32LE(STATUS_SIGN, 0);
  block.writeUInt32LE(tag, 4);
  block[12] = failed;
  return block;
}

function controlAnswer([type, request, , descriptor]: Uint8Array): Uint8Array | undefined {
  if (type === 0xa1 && request === 0xfe) return Uint8Array.of(0); // the number of the last disk
  if (type !== 0x80) return undefined;
  if (request === 0) return Uint8Array.of(0, 0);
  if (request !== 6) return undefined;
  return descriptor === 1 ? driveDescriptor : descriptor === 2 ? configuration : undefined;
}
