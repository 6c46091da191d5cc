import { crc32 } from 'node:zlib';
import { Flash } from '../../../../host/board/sim/flash.js';
import type { Core } from '../../../../host/core/generated/core-interface.js';
import { startCore } from '../../../../host/core/load-core.js';
import {
  decodeLine,
  encodeLine,
  lineChecksum,
  type Message,
  type MessageOf,
  protocolVersion,
  schemaHash,
} from '../../../../shared-protocol/index.js';

/** The core alone with a flash, spoken to line by line; its serial line takes `roomBytes` and then is full. */
export class Conversation {
  readonly flash: Flash;
  /** How often the core asked for light; nothing that is said here may raise it. */
  lampStarts = 0;
  roomBytes = Number.POSITIVE_INFINITY;
  /** What the board's parts were told, in order: lamp, safelight, display and its light. */
  readonly told: string[] = [];
  /** The first of it, before the flash has done anything. */
  readonly toldAtOnce: readonly string[];
  /** How often the board made way for new firmware. */
  timesLeft = 0;
  #core: Core;
  #sent = '';
  #flashOk: (0 | 1)[] = [];

  /** Of requests, for whoever numbers them by this. */
  nextId = 10;

  /** One that has been said hello to. */
  static greeted(): Conversation {
    const conversation = new Conversation();
    conversation.hello();
    return conversation;
  }

  /** @param bootUs since power-up: so late the core starts */
  constructor(flash = new Flash(), bootUs = 0n) {
    this.flash = flash;
    this.#core = this.#start();
    this.#core.boot(bootUs, 0, 0);
    this.toldAtOnce = [...this.told];
    this.settle(bootUs + 1n);
  }

  #start(): Core {
    const bytes = () => new Uint8Array(this.#core.memory.buffer);
    const nothing = () => {};
    return startCore({
      exposeUs: () => void this.lampStarts++,
      focusUs: () => void this.lampStarts++,
      lampOff: () => void this.told.push('lamp off'),
      safelight: (on) => void this.told.push(`safelight ${on}`),
      makeWay: () => void this.timesLeft++,
      wakeAtUs: nothing,
      showLine: (row, from, length) =>
        void this.told.push(
          `row ${row}: ${Buffer.from(bytes().subarray(from, from + length)).toString('latin1')}`,
        ),
      displayLight: (percent) => void this.told.push(`display ${percent}`),
      tone: nothing,
      sendBytes: (from, length) => {
        if (length > this.roomBytes) return 0;
        this.roomBytes -= length;
        this.#sent += Buffer.from(bytes().subarray(from, from + length)).toString('latin1');
        return 1;
      },
      flashRead: (offset, into, length) => bytes().set(this.flash.read(offset, length), into),
      flashProgram: (offset, from, length) =>
        void this.#flashOk.push(this.flash.program(offset, bytes().slice(from, from + length)) ? 1 : 0),
      flashErase: (offset) => void this.#flashOk.push(this.flash.erase(offset) ? 1 : 0),
      boardId: (into) => bytes().set([1, 2, 3, 4, 5, 6, 7, 8], into),
      // As many of each as no other has.
      linkFaults: (which) => 100 + which,
    });
  }

  /** Lets the flash finish what it was asked to do, by then. */
  settle(nowUs = 1n): void {
    for (let ok = this.#flashOk.shift(); ok !== undefined; ok = this.#flashOk.shift())
      this.#core.flashDone(ok, nowUs);
  }

  /** An event that is not of the line, as the board tells it. */
  happens(event: (core: Core) => void): void {
    event(this.#core);
  }

  /** Puts raw bytes on the line and answers everything the core sent since; the flash is not settled. */
  raw(bytes: string): string {
    this.#sent = '';
    for (const byte of Buffer.from(bytes, 'latin1')) this.#core.received(byte, 1_000_000n);
    return this.#sent;
  }

  /** Gives the line room again. */
  drain(roomBytes = Number.POSITIVE_INFINITY): Message[] {
    this.#sent = '';
    this.roomBytes = roomBytes;
    this.#core.writable(1_000_000n);
    return readAll(this.#sent);
  }

  /** Says one message, lets the flash finish, and answers what came back. */
  say<Type extends Message['type']>(message: MessageOf<Type>): Message[] {
    this.raw(encodeLine(message));
    this.settle();
    return readAll(this.#sent);
  }

  /** Lets the flash finish, and answers what is said then. */
  later(): Message[] {
    this.#sent = '';
    this.settle();
    return readAll(this.#sent);
  }

  hello(id = 1): Message[] {
    return this.say({ type: 'hello', id, protocol: protocolVersion, schemaHash, hostVersion: 'test' });
  }
}

export function readAll(lines: string): Message[] {
  return lines
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => {
      const decoded = decodeLine(line);
      if (!decoded.ok) throw new Error(`the core sent ${line}: ${decoded.why}`);
      return decoded.message;
    });
}

/** A body with a right checksum around it, whatever stands in it. */
export function sealed(body: string): string {
  return `${body},"${lineChecksum(body)}"]\n`;
}

/** The lines of a small recipe, and the commit that closes it. */
export function recipeUpload(name: string, baseMs: number, firstId = 100): Message[] {
  let id = firstId;
  const parts: Message[] = [
    { type: 'recipe-begin', id: id++, name, passes: 2, dodges: 1 },
    { type: 'recipe-text', id: id++, which: 'title', value: 'Slipway, "été" 😀' },
    {
      type: 'recipe-head',
      id: id++,
      version: 1,
      baseMs,
      aperture10: 80,
      magnification1000: 4000,
      dryDown10: 0,
    },
    { type: 'recipe-pass', id: id++, pass: 1, kind: 'base', label: '', filter: '2', stops120: 0, dodges: 1 },
    { type: 'recipe-dodge', id: id++, label: 'face', stops120: -40 },
    {
      type: 'recipe-pass',
      id: id++,
      pass: 2,
      kind: 'burn',
      label: 'sky',
      filter: '00',
      stops120: 90,
      dodges: 0,
    },
    { type: 'recipe-fine', id: id++, offset: 3, fine3M: -1234 },
  ];
  return [...parts, { type: 'recipe-commit', id: id++, whole: wholeOf(parts) }];
}

/** CRC-32 over the checksums of the lines, as the schema defines `whole`. */
export function wholeOf(parts: readonly Message[]): string {
  const sums = parts.map((part) => encodeLine(part).slice(-11, -3)).join('');
  return crc32(sums).toString(16).padStart(8, '0');
}
