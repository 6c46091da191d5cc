import {
  decodeLine,
  type EndOf,
  encodeLine,
  type Message,
  type MessageOf,
  protocolVersion,
  type RequestType,
  schemaHash,
  version,
} from '../../../../shared-protocol/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import type { Wish } from '../../../board/link/answer-reader.js';
import { uploadRecipe } from '../../../board/link/recipe-upload.js';
import type { Answered } from '../../../board/link/requests.js';
import type { CoreBoard } from '../../../board/sim/core-board.js';
import type { BoardRecipe } from '../../../recipe/board-recipe.js';

const MOST_ID = 0xffff;
/** Longer than any answer is away: the flash under it takes its time. */
const LONGEST_MS = 2000;

/** What the board tells of its evening. */
interface Hears {
  moved(moved: MessageOf<'moved'>): void;
  /** Asked for after every move, since a move does not say what job it belongs to. */
  status(status: MessageOf<'status'>): void;
  /** What the log has about it, as soon as it is there. */
  logged(entry: MessageOf<'sheet'> | MessageOf<'exposure'>): void;
}

/**
 * The laptop of a rehearsal: at the other end of the board's own line, with a cable that loses nothing, and with time
 * standing still but for the board's own work.
 */
export class PageLaptop {
  readonly #board: CoreBoard;
  readonly #send: (bytes: Uint8Array) => void;
  readonly #hears: Hears;
  readonly #answers = new Map<number, Message>();
  #unfinished = '';
  #lastId = 0;
  /** The log was read up to here. */
  #nextSeq = 0;

  constructor(board: CoreBoard, hears: Hears) {
    this.#board = board;
    this.#hears = hears;
    this.#send = board.connect({ unreadBytes: 0, give: (bytes) => this.#take(bytes), end: () => {} });
  }

  /** Opens the conversation, and has the board tell where the evening stands. */
  async greet(): Promise<void> {
    this.#sendText('\n');
    await this.ask({ type: 'hello', protocol: protocolVersion, schemaHash, hostVersion: version });
    await this.ask({ type: 'watch', on: true });
  }

  /** Keeps the recipe on the board, and has the pedal begin it. */
  async bring(recipe: BoardRecipe): Promise<void> {
    await uploadRecipe(this, recipe);
    await this.ask({ type: 'choose', job: 'recipe', name: recipe.name });
  }

  async ask<Type extends RequestType>(wish: Wish<Type>): Promise<Answered<Type>> {
    const id = this.#takeId();
    const line = encodeLine({ ...wish, id } as unknown as Message);
    this.#sendText(line);
    for (let ms = 0; ms < LONGEST_MS && !this.#answers.has(id); ms++) this.#board.advanceUs(1000);
    const answer = this.#answers.get(id);
    this.#answers.delete(id);
    if (answer === undefined || answer.type === 'error')
      throw new Error(`the board answered ${wish.type} with ${JSON.stringify(answer)}`);
    return { answer: answer as EndOf<Type>, line };
  }

  /** What the row of baths calls the first one. */
  async developer(): Promise<string> {
    return (await this.ask({ type: 'bath-get', bath: 1 })).answer.label;
  }

  /** Nobody else asks. */
  inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
    return work();
  }

  /** The board is in the middle of saying it: asked back at once, it would be asked inside its own event. */
  #hearMoved(moved: MessageOf<'moved'>): void {
    this.#hears.moved(moved);
    queueMicrotask(() => this.#sendText(encodeLine({ type: 'ping', id: this.#takeId() })));
  }

  #hearStatus(status: MessageOf<'status'>): void {
    this.#hears.status(status);
    if (status.nextSeq > this.#nextSeq) this.#readLog();
  }

  #readLog(): void {
    const wish = {
      type: 'collect',
      id: this.#takeId(),
      fromSeq: this.#nextSeq,
      count: limits.collectRecords,
    } as const;
    queueMicrotask(() => this.#sendText(encodeLine(wish)));
  }

  #hearCollected({ nextSeq, endSeq }: MessageOf<'collected'>): void {
    this.#nextSeq = nextSeq;
    if (nextSeq < endSeq) this.#readLog();
  }

  /** From 1 to 65535, and round again. */
  #takeId(): number {
    this.#lastId = (this.#lastId % MOST_ID) + 1;
    return this.#lastId;
  }

  #sendText(text: string): void {
    this.#send(Uint8Array.from(text, (character) => character.charCodeAt(0)));
  }

  #take(bytes: Uint8Array): void {
    const lines = (this.#unfinished + String.fromCharCode(...bytes)).split('\n');
    this.#unfinished = lines.pop()!;
    for (const line of lines) {
      const decoded = decodeLine(line);
      if (!decoded.ok) continue;
      const { message } = decoded;
      if (message.type === 'moved') this.#hearMoved(message);
      else if (message.type === 'status') this.#hearStatus(message);
      else if (message.type === 'sheet' || message.type === 'exposure') this.#hears.logged(message);
      else if (message.type === 'collected') this.#hearCollected(message);
      else if (message.id !== 0) this.#answers.set(message.id, message);
    }
  }
}
