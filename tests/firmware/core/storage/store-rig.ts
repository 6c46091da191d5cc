import type { Flash } from '../../../../host/board/sim/flash.js';
import { PowerCut } from '../../../../host/board/sim/flash-memory.js';
import { compileCore } from '../../../setup/compile-core.js';

/** What a request may be answered with; the core's StoreCode. */
export const code = {
  done: 0,
  waiting: 1,
  full: -1,
  busy: -2,
  notFound: -3,
  badRequest: -4,
  failed: -5,
} as const;
export const forms = ['whole', 'ended', 'interrupted'] as const;
export const documentKind = { recipe: 1, settings: 2, strip: 3, baths: 4 } as const;

export interface Entry {
  readonly seq: number;
  readonly kind: number;
  readonly boot: number;
  readonly form: (typeof forms)[number];
  readonly begun: Uint8Array;
  readonly ended: Uint8Array;
}

interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly payload: WebAssembly.Global;
  readonly name: WebAssembly.Global;
  readonly body: WebAssembly.Global;
  readonly fetched: WebAssembly.Global;
  openStorage(): void;
  runFlash(): void;
  flashFinished(ok: number): void;
  takeFinished(): number;
  finishedTicket(): number;
  finishedCode(): number;
  flashIsBusy(): number;
  isStored(): number;
  idle(): void;
  forbidFlash(): void;
  allowFlash(): void;
  beginRecord(kind: number, from: number, length: number, ticket: number): number;
  endRecord(from: number, length: number, ticket: number): number;
  appendRecord(kind: number, from: number, length: number, ticket: number): number;
  forgetUpTo(seq: number, ticket: number): number;
  readEntry(seq: number, into: number): number;
  entrySeq(): number;
  entryKind(): number;
  entryBoot(): number;
  entryForm(): number;
  entryBegunBytes(): number;
  entryEndedBytes(): number;
  room(): number;
  nextSeq(): number;
  openSeq(): number;
  endSeq(): number;
  forgottenSeq(): number;
  bootNumber(): number;
  putDocument(kind: number, name: number, body: number, length: number, ticket: number): number;
  dropDocument(document: number, ticket: number): number;
  findDocument(kind: number, name: number): number;
  nextDocument(kind: number, document: number): number;
  countDocuments(kind: number): number;
  describe(document: number): number;
  revision(): number;
  readDocument(document: number, at: number, into: number, length: number): number;
  isIntact(document: number): number;
}

let compiled: WebAssembly.Module | undefined;

/**
 * One boot of the stores over a flash. Flash operations are carried out only by `step`, one at a time, so
 * that tests say what happens between them; after a PowerCut a new rig over the same flash is the next boot.
 */
export class StoreRig {
  readonly core: Exports;
  /** Each request's ticket and what came of it. */
  readonly finished = new Map<number, number>();
  readonly #memory: Uint8Array;
  #waiting: (() => boolean) | undefined;
  #tickets = 0;

  constructor(readonly flash: Flash) {
    compiled ??= compileCore('tests/firmware/core/storage/storage.as.ts');
    const board = {
      flashRead: (offset: number, into: number, length: number) =>
        this.#memory.set(this.flash.read(offset, length), into),
      flashProgram: (offset: number, from: number, length: number) => {
        const data = this.#memory.slice(from, from + length);
        this.#start(() => this.flash.program(offset, data));
      },
      flashErase: (offset: number) => this.#start(() => this.flash.erase(offset)),
    };
    this.core = new WebAssembly.Instance(compiled, { board }).exports as unknown as Exports;
    // The core's memory never grows, so one view of it stays good.
    this.#memory = new Uint8Array(this.core.memory.buffer);
    this.core.openStorage();
  }

  #start(operation: () => boolean): void {
    if (this.#waiting !== undefined) throw new Error('two flash operations at a time');
    this.#waiting = operation;
  }

  /** Lets the core start an operation and carries it out; false when there was none to do. */
  step(): boolean {
    this.core.runFlash();
    const operation = this.#waiting;
    if (operation === undefined) {
      this.#takeFinished();
      return false;
    }
    const ok = operation();
    this.#waiting = undefined;
    this.core.flashFinished(ok ? 1 : 0);
    this.#takeFinished();
    return true;
  }

  /** Steps until nothing is left to do; the number of operations that took. */
  settle(): number {
    let operations = 0;
    while (this.step()) operations++;
    return operations;
  }

  #takeFinished(): void {
    while (this.core.takeFinished()) this.finished.set(this.core.finishedTicket(), this.core.finishedCode());
  }

  /** The last request's ticket. */
  get ticket(): number {
    return this.#tickets;
  }

  begin(kind: number, payload: Uint8Array): number {
    return this.core.beginRecord(kind, this.#payload(payload), payload.length, ++this.#tickets);
  }

  end(payload: Uint8Array): number {
    return this.core.endRecord(this.#payload(payload), payload.length, ++this.#tickets);
  }

  append(kind: number, payload: Uint8Array): number {
    return this.core.appendRecord(kind, this.#payload(payload), payload.length, ++this.#tickets);
  }

  forget(seq: number): number {
    return this.core.forgetUpTo(seq, ++this.#tickets);
  }

  put(kind: number, name: string, body: Uint8Array): number {
    const at = this.core.body.value as number;
    const before = this.#memory.slice(at, at + body.length);
    this.#memory.set(body, at);
    const answer = this.core.putDocument(kind, this.#name(name), at, body.length, ++this.#tickets);
    // The buffer still belongs to the document under way.
    if (answer === code.busy) this.#memory.set(before, at);
    return answer;
  }

  /** Spoils the bytes that are being put, as a careless caller might. */
  spoilBody(): void {
    this.#memory[this.core.body.value]! ^= 1;
  }

  drop(kind: number, name: string): number {
    return this.core.dropDocument(this.find(kind, name), ++this.#tickets);
  }

  find(kind: number, name: string): number {
    return this.core.findDocument(kind, this.#name(name));
  }

  /** The code of a request once everything is in flash. */
  finish(requested: number): number {
    const ticket = this.#tickets;
    if (requested !== code.waiting) return requested;
    this.settle();
    return this.finished.get(ticket) ?? Number.NaN;
  }

  /** The first entry at or after `seq`. */
  entry(seq: number): Entry | undefined {
    const into = this.core.payload.value as number;
    if (this.core.readEntry(seq, into) !== code.done) return undefined;
    const begunBytes = this.core.entryBegunBytes();
    const endedAt = into + begunBytes;
    return {
      seq: this.core.entrySeq(),
      kind: this.core.entryKind(),
      boot: this.core.entryBoot(),
      form: forms[this.core.entryForm()]!,
      begun: this.#memory.slice(into, endedAt),
      ended: this.#memory.slice(endedAt, endedAt + this.core.entryEndedBytes()),
    };
  }

  /** All entries that can be read, in order. */
  entries(): Entry[] {
    const all: Entry[] = [];
    for (let entry = this.entry(1); entry !== undefined; entry = this.entry(entry.seq + 1)) all.push(entry);
    return all;
  }

  /** A document's body, or undefined when there is none of that name. */
  document(kind: number, name: string): Uint8Array | undefined {
    const document = this.find(kind, name);
    const length = this.core.describe(document);
    if (length < 0) return undefined;
    const into = this.core.fetched.value as number;
    if (this.core.readDocument(document, 0, into, length) !== code.done) return undefined;
    return this.#memory.slice(into, into + length);
  }

  /** The names of a kind, in the shelf's order. */
  names(kind: number): string[] {
    const names: string[] = [];
    for (let item = this.core.nextDocument(kind, -1); item >= 0; item = this.core.nextDocument(kind, item)) {
      this.core.describe(item);
      const at = this.core.name.value as number;
      names.push(Buffer.from(this.#memory.slice(at + 1, at + 1 + this.#memory[at]!)).toString('latin1'));
    }
    return names;
  }

  #payload(payload: Uint8Array): number {
    this.#memory.set(payload, this.core.payload.value);
    return this.core.payload.value;
  }

  #name(name: string): number {
    this.#memory.set([name.length, ...Buffer.from(name, 'latin1')], this.core.name.value);
    return this.core.name.value;
  }
}

/** Runs `work`; true when the power was cut in it. */
export function wasCut(work: () => void): boolean {
  try {
    work();
    return false;
  } catch (error) {
    if (error instanceof PowerCut) return true;
    throw error;
  }
}
