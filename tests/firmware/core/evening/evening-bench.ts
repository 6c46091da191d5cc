import type { Duplex } from 'node:stream';
import { crc32 } from 'node:zlib';
import type { BoardHome } from '../../../../host/board/sim/board-home.js';
import { holdPedal, pushKnob, tapPedal } from '../../../../host/board/sim/controls.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { splitStops } from '../../../../host/recipe/fine-stops.js';
import {
  decodeLine,
  encodeLine,
  type Message,
  type MessageOf,
  type MessageType,
  protocolVersion,
  schemaHash,
} from '../../../../shared-protocol/index.js';

type Entry = Extract<Message, { seq: number }>;

export interface BenchRecipe {
  readonly name: string;
  readonly baseMs: number;
  /** 1 where it is left out. */
  readonly version?: number;
  /** Title, negative and paper; not sent where they are left out. */
  readonly texts?: Readonly<Record<MessageOf<'recipe-text'>['which'], string>>;
  /** In tenths of a stop number; f/8 where it is left out. */
  readonly aperture10?: number;
  /** What its paper is called; nothing where it is left out. */
  readonly paper?: string;
  readonly passes: readonly {
    readonly kind: 'base' | 'burn';
    readonly label: string;
    readonly filter: string;
    /** As a laptop has it: what came of a time is not whole. */
    readonly stops120: number;
    readonly dodges?: readonly { readonly label: string; readonly stops120: number }[];
  }[];
}

function expectOk(answer: readonly Message[]): void {
  if (answer[0]?.type !== 'ok') throw new Error(`the board answered ${JSON.stringify(answer)}`);
}

/** Letters that the display has; or all of its dots, to look for one that is broken. */
const SHOWN = /^[\x20-\x7e█]*$/;

/** A board on a virtual clock, the simulated one or the emulated chip, with a foot, an eye and the plainest of laptops. */
export class EveningBench<Home extends BoardHome = SimulatedBoard> {
  readonly board: Home;
  #cable: Duplex;
  #nextId = 1;
  #checksums: string[] = [];
  readonly notices: Message[] = [];

  constructor(board?: Home) {
    this.board = board ?? (new SimulatedBoard() as BoardHome as Home);
    this.#cable = this.board.plug();
    this.board.advanceUs(500_000);
  }

  tap(): void {
    tapPedal(this.board);
  }

  /** Taps on what the panel asks before a light, until it offers the light. */
  answer(): void {
    for (let taps = 0; taps < 4 && this.isAsked; taps++) this.tap();
  }

  get isAsked(): boolean {
    return /^(Filter in|Tap (done|yes) Hold back)/.test(this.panel[0]!);
  }

  hold(): void {
    holdPedal(this.board, 900);
  }

  turn(clicks: number): void {
    this.board.knobTurn(clicks);
  }

  push(): void {
    pushKnob(this.board);
  }

  /** Pushes the knob until the panel says that it turns this: 'Knob: paper', or only its end. */
  pushTo(figure: string): void {
    for (let pushes = 0; !this.panel[3]!.endsWith(figure); pushes++) {
      if (pushes === 12) throw new Error(`no push came to '${figure}'; now: ${this.panel.join(' | ')}`);
      this.push();
    }
  }

  /** Holds the knob down, and lets go. */
  holdKnob(): void {
    pushKnob(this.board, 900);
  }

  /** Keeps the print under the name that the knob stands at, or goes on to by so many clicks. */
  keep(clicks = 0): void {
    this.holdKnob();
    if (clicks !== 0) this.turn(clicks);
    this.push();
    this.seconds(2);
  }

  seconds(seconds: number): void {
    this.board.advanceUs(Math.round(seconds * 1_000_000));
  }

  /** The power is cut and comes back, and the laptop says hello again. */
  offAndOn(): void {
    this.board.cutPower();
    this.board.restorePower();
    this.seconds(1);
    this.greet();
  }

  /** The display as a person reads it: four rows, nothing at their right ends. */
  get panel(): string[] {
    const rows = this.board.panel.map((row) => row.trimEnd());
    const odd = rows.find((row) => !SHOWN.test(row));
    if (odd !== undefined) throw new Error(`the panel shows ${JSON.stringify(odd)}`);
    return rows;
  }

  /** Lamp pulses so far, each in microseconds. */
  get pulses(): number[] {
    const edges = this.board.lampEdges;
    return edges.flatMap((edge, at) => (edge.on || at === 0 ? [] : [edge.atUs - edges[at - 1]!.atUs]));
  }

  /** Focus light and the lens check, as every evening begins. */
  focusAndStopDown(): void {
    this.hold();
    this.seconds(5);
    this.tap();
    this.hold();
  }

  greet(): void {
    this.#cable.write('\n');
    this.ask({
      type: 'hello',
      id: 0,
      protocol: protocolVersion,
      schemaHash,
      hostVersion: 'bench',
    });
  }

  /** Sends a request, and answers with every line that came back for it. */
  ask<Type extends MessageType>(message: MessageOf<Type>): Message[] {
    return this.askAtOnce(message, 500_000);
  }

  /** The same, and hears only what is said within so many microseconds. */
  askAtOnce<Type extends MessageType>(message: MessageOf<Type>, us = 0): Message[] {
    const id = this.#nextId++;
    this.#cable.write(encodeLine({ ...message, id } as MessageOf<Type>));
    this.board.advanceUs(us);
    const said = this.#read();
    this.notices.push(...said.filter((line) => line.id === 0));
    return said.filter((line) => line.id === id);
  }

  /** What the board said unasked since it was last listened to. */
  hear(): Message[] {
    return this.#read();
  }

  /** Bytes that no laptop sends. */
  noise(bytes: Uint8Array): void {
    this.#cable.write(bytes);
  }

  /** Uploads a recipe as the laptop does and chooses it. */
  print(recipe: BenchRecipe): void {
    this.send(recipe);
    expectOk(this.ask({ type: 'choose', id: 0, job: 'recipe', name: recipe.name }));
  }

  /** Uploads a recipe as the laptop does, and leaves what is chosen. */
  send(recipe: BenchRecipe): void {
    expectOk(this.ask(this.upload(recipe)));
  }

  /** Sends all parts of a recipe, and answers the line that commits it. */
  upload(recipe: BenchRecipe): MessageOf<'recipe-commit'> {
    const dodges = recipe.passes.flatMap((pass) => pass.dodges ?? []);
    this.#part({
      type: 'recipe-begin',
      id: 0,
      name: recipe.name,
      passes: recipe.passes.length,
      dodges: dodges.length,
    });
    for (const [which, value] of Object.entries(recipe.texts ?? {}))
      this.#part({ type: 'recipe-text', id: 0, which, value } as MessageOf<'recipe-text'>);
    this.#part({
      type: 'recipe-head',
      id: 0,
      version: recipe.version ?? 1,
      baseMs: recipe.baseMs,
      aperture10: recipe.aperture10 ?? 80,
      magnification1000: 5000,
      dryDown10: 0,
    });
    if (recipe.paper !== undefined)
      this.#part({ type: 'recipe-text', id: 0, which: 'paper', value: recipe.paper });
    recipe.passes.forEach((pass, index) => {
      const { kind, label, filter } = pass;
      const { stops120 } = splitStops(pass.stops120);
      const count = pass.dodges?.length ?? 0;
      this.#part({
        type: 'recipe-pass',
        id: 0,
        pass: index + 1,
        kind,
        label,
        filter,
        stops120,
        dodges: count,
      });
      for (const dodge of pass.dodges ?? [])
        this.#part({ type: 'recipe-dodge', id: 0, ...dodge, stops120: splitStops(dodge.stops120).stops120 });
    });
    [...recipe.passes, ...dodges].forEach((one, index) => {
      const { fine3M } = splitStops(one.stops120);
      if (fine3M !== 0) this.#part({ type: 'recipe-fine', id: 0, offset: index + 1, fine3M });
    });
    const whole = crc32(this.#checksums.join('')).toString(16).padStart(8, '0');
    this.#checksums = [];
    return { type: 'recipe-commit', id: 0, whole };
  }

  /** The whole log, oldest first. */
  log(): Entry[] {
    const entries: Entry[] = [];
    for (let fromSeq = 1; ; ) {
      const said = this.ask({ type: 'collect', id: 0, fromSeq, count: 64 });
      entries.push(...said.filter((line): line is Entry => 'seq' in line));
      const pulled = said.find((line) => line.type === 'collected');
      if (pulled?.type !== 'collected') throw new Error(`pull was answered by ${JSON.stringify(said)}`);
      if (pulled.nextSeq >= pulled.endSeq) return entries;
      if (pulled.nextSeq <= fromSeq) throw new Error(`the log does not go on: ${JSON.stringify(pulled)}`);
      fromSeq = pulled.nextSeq;
    }
  }

  /** Throws away what the board has said so far. */
  hush(): void {
    this.#cable.read();
  }

  /** Asks for the log so often in a row and does not wait for any of it. */
  beginCollecting(count: number): void {
    for (let pull = 0; pull < count; pull++) {
      this.#cable.write(encodeLine({ type: 'collect', id: this.#nextId++, fromSeq: 1, count: 64 }));
    }
  }

  #part<Type extends MessageType>(message: MessageOf<Type>): void {
    const line = encodeLine({ ...message, id: this.#nextId } as MessageOf<Type>);
    this.#checksums.push(line.slice(-11, -3));
    expectOk(this.ask(message));
  }

  #read(): Message[] {
    const bytes = this.#cable.read() as Buffer | null;
    const lines = (bytes?.toString('latin1') ?? '').split('\n').filter((line) => line !== '');
    return lines.map((line) => {
      const decoded = decodeLine(line);
      if (!decoded.ok) throw new Error(`the board sent ${line}: ${decoded.why}`);
      return decoded.message;
    });
  }
}
