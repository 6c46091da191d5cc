import type { Core, CoreEffects } from '../../../../host/core/generated/core-interface.js';
import type { Chip } from './chip.js';
import type { Image } from './image.js';

/** What a core did: events in, effects out, each a line of text, in order. */
export type Trace = string[];

/** What the board answered to the effects that have an answer, in order. */
export interface Answers {
  readonly sendBytes: number[];
  readonly linkFaults: number[];
  readonly flashRead: Uint8Array[];
  readonly boardId: Uint8Array[];
}

/** Where the arguments of an export or import lie: a 32-bit word, or a 64-bit number on an even pair of words. */
type Kind = 'word' | 'number' | 'wide';

/** The ABI of firmware/core/index.ts. The first argument is always the instance, so words are counted from 1. */
const events: Readonly<Record<string, readonly Kind[]>> = {
  boot: ['wide', 'word', 'word'],
  received: ['word', 'wide'],
  writable: ['wide'],
  pedalEdge: ['word', 'wide'],
  knobEdge: ['word', 'wide'],
  knobTurned: ['number', 'wide'],
  lampEnded: ['word', 'wide'],
  deadline: ['wide'],
  flashDone: ['word', 'wide'],
};

/** The ABI of firmware/core/board.ts. */
const effects: Readonly<Record<keyof CoreEffects, readonly Kind[]>> = {
  exposeUs: ['word'],
  focusUs: ['word'],
  lampOff: [],
  safelight: ['word'],
  makeWay: [],
  wakeAtUs: ['wide'],
  showLine: ['word', 'word', 'word'],
  displayLight: ['number'],
  tone: ['number', 'number'],
  sendBytes: ['word', 'word'],
  flashRead: ['word', 'word', 'word'],
  flashProgram: ['word', 'word', 'word'],
  flashErase: ['word'],
  boardId: ['word'],
  linkFaults: ['number'],
};

const ID_BYTES = 8;
const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

/** Writes down what the core on a chip is told and asks for, by watching the calls of its functions. */
export class TraceRecorder {
  readonly lines: Trace = [];
  readonly answers: Answers = { sendBytes: [], linkFaults: [], flashRead: [], boardId: [] };
  readonly #chip: Chip;
  readonly #memoryAt: number;
  readonly #names = new Map<number, { readonly name: string; readonly isEvent: boolean }>();
  #returnTo = 0;
  #onReturn: (result: number) => void = () => {};

  constructor(chip: Chip, image: Image) {
    this.#chip = chip;
    this.#memoryAt = image.symbols.get('core_memory')! - 0x2000_0000;
    for (const [symbol, address] of image.symbols) {
      const found = /^Z_(core|board)Z_(\w+)$/.exec(symbol);
      if (found) this.#names.set(address & ~1, { name: found[2]!, isEvent: found[1] === 'core' });
    }
    chip.core.blTaken = () => this.#called();
    const execute = chip.core.executeInstruction.bind(chip.core);
    chip.core.executeInstruction = () => {
      if (chip.core.PC === this.#returnTo) this.#returned();
      return execute();
    };
  }

  #called(): void {
    const called = this.#names.get(this.#chip.core.PC & ~1);
    if (called === undefined) return;
    if (called.isEvent) {
      if (called.name in events)
        this.lines.push(describe(called.name, this.#arguments(events[called.name]!)));
      return;
    }
    const name = called.name as keyof CoreEffects;
    const given = this.#arguments(effects[name]);
    this.lines.push(`  ${describeEffect(name, given, (at, length) => this.#memory(at, length))}`);
    this.#awaitAnswer(name, given);
  }

  #awaitAnswer(name: keyof CoreEffects, given: readonly (number | bigint)[]): void {
    const then = (keep: (result: number) => void) => {
      this.#returnTo = this.#chip.core.LR & ~1;
      this.#onReturn = keep;
    };
    if (name === 'sendBytes') then((result) => this.answers.sendBytes.push(result));
    else if (name === 'linkFaults') then((result) => this.answers.linkFaults.push(result));
    else if (name === 'boardId')
      then(() => this.answers.boardId.push(this.#memory(Number(given[0]), ID_BYTES)));
    else if (name === 'flashRead')
      then(() => this.answers.flashRead.push(this.#memory(Number(given[1]), Number(given[2]))));
  }

  #returned(): void {
    this.#returnTo = 0;
    this.#onReturn(this.#chip.core.registers[0]!);
  }

  #memory(at: number, length: number): Uint8Array {
    return this.#chip.sram.slice(this.#memoryAt + at, this.#memoryAt + at + length);
  }

  /** Arguments by the procedure call standard (AAPCS, section 6.5): four registers, then the stack. */
  #arguments(kinds: readonly Kind[]): (number | bigint)[] {
    let word = 1;
    return kinds.map((kind) => {
      if (kind !== 'wide') return kind === 'number' ? this.#word(word++) | 0 : this.#word(word++);
      word += word % 2;
      const low = BigInt(this.#word(word++));
      return BigInt.asIntN(64, (BigInt(this.#word(word++)) << 32n) | low);
    });
  }

  #word(index: number): number {
    const { core } = this.#chip;
    return index < 4 ? core.registers[index]! : this.#chip.readUint32(core.SP + 4 * (index - 4));
  }
}

function describe(name: string, given: readonly (number | bigint)[]): string {
  return [name, ...given].join(' ');
}

/** An effect with the bytes that it points to instead of where they lie. */
function describeEffect(
  name: keyof CoreEffects,
  given: readonly (number | bigint)[],
  memory: (at: number, length: number) => Uint8Array,
): string {
  const [first, second, third] = given.map(Number);
  if (name === 'showLine') return `${name} ${first} ${hex(memory(second!, third!))}`;
  if (name === 'sendBytes') return `${name} ${hex(memory(first!, second!))}`;
  if (name === 'flashProgram') return `${name} ${first} ${hex(memory(second!, third!))}`;
  if (name === 'flashRead') return `${name} ${first} ${third}`;
  return name === 'boardId' ? name : describe(name, given);
}

/** Plays the events of a trace to a core here, with the board's answers, and gives the trace that this makes. */
export function replay(module: WebAssembly.Module, recorded: Trace, answers: Answers): Trace {
  const lines: Trace = [];
  const rest = {
    sendBytes: [...answers.sendBytes],
    linkFaults: [...answers.linkFaults],
    flashRead: [...answers.flashRead],
    boardId: [...answers.boardId],
  };
  const memory = (at: number, length: number) => new Uint8Array(core.memory.buffer, at >>> 0, length);
  const board: Record<string, (...given: (number | bigint)[]) => number | undefined> = {};
  for (const name of Object.keys(effects) as (keyof CoreEffects)[]) {
    board[name] = (...given) => {
      const words = given.map((value, index) =>
        typeof value === 'number' && effects[name][index] === 'word' ? value >>> 0 : value,
      );
      lines.push(`  ${describeEffect(name, words, memory)}`);
      if (name === 'sendBytes' || name === 'linkFaults') return rest[name].shift();
      if (name === 'flashRead') memory(Number(given[1]), Number(given[2])).set(rest.flashRead.shift()!);
      if (name === 'boardId') memory(Number(given[0]), ID_BYTES).set(rest.boardId.shift()!);
      return undefined;
    };
  }
  const core = new WebAssembly.Instance(module, { board }).exports as unknown as Core;
  for (const line of recorded) if (!line.startsWith(' ')) play(core, line, lines);
  return lines;
}

function play(core: Core, line: string, lines: Trace): void {
  const [name, ...words] = line.split(' ');
  const given = words.map((word, index) => (events[name!]![index] === 'wide' ? BigInt(word) : Number(word)));
  lines.push(line);
  (core as unknown as Record<string, (...given: (number | bigint)[]) => void>)[name!]!(...given);
}
