import {
  limits,
  type Message,
  type MessageOf,
  type SettingName,
  settingAllows,
  settingRange,
  settings,
} from '../../../shared-protocol/index.js';
import type { Clock } from '../../clock.js';
import { BoardLostError, InvalidRequestError, VersionMismatchError } from '../errors.js';
import { laptopVersion, type Welcome } from './handshake.js';
import { Heartbeat } from './heartbeat.js';
import type { Link, LinkCounters } from './link.js';
import type { LinkSetup } from './link-options.js';
import { collectLog, type LogBatch } from './log-collection.js';
import { type Notice, NoticeQueue } from './notices.js';
import { type BoardRecipe, recipeFromLines, type UploadOptions, uploadRecipe } from './recipe-upload.js';
import type { Requests, Wish } from './requests.js';

export type Status = MessageOf<'status'>;
export type BoardCounters = MessageOf<'counters'>;
export type RecipeLine = MessageOf<'recipe-line'>;
export type StripSettings = Omit<MessageOf<'strip-set'>, 'type' | 'id'>;
export type Job = Status['job'];
/** A bath of the row, counted from 1, and what has gone through it since it was mixed. */
export type Bath = Omit<MessageOf<'bath'>, 'type' | 'id'>;
/** What a printer sets of a bath: whole seconds, 0 where that paper does not go in; whole cm2, 0 for no limit. */
export type BathTimes = Omit<MessageOf<'bath-set'>, 'type' | 'id' | 'bath' | 'baths'>;

export interface CallOptions {
  readonly signal?: AbortSignal;
}

/** A list that lost a line on the way is asked for again, so often. */
const LIST_ATTEMPTS = 4;

/**
 * A board that has said who it is. Every call may throw BoardLostError, after which every further call does;
 * RefusedError with the board's reason; and the reason of an aborted signal.
 */
export class Board {
  readonly path: string;
  /** Who it is: the answer to our hello. */
  readonly welcome: Welcome;
  /** Set when laptop and board are out of step: then only the log can be read. */
  readonly mismatch: VersionMismatchError | undefined;
  /** The clock that this side goes by. */
  readonly clock: Clock;
  /** Whether this connection gave the board the time: a record of it is or will be in the log. */
  clockTold = false;
  /** Aborted, with the BoardLostError as its reason, when the board is lost. */
  readonly lost: AbortSignal;
  readonly #link: Link;
  readonly #requests: Requests;
  readonly #heartbeat: Heartbeat;
  readonly #onClose: () => void;

  constructor(link: Link, requests: Requests, welcome: Welcome, setup: LinkSetup, onClose: () => void) {
    this.path = link.path;
    this.clock = setup.clock;
    this.welcome = welcome;
    this.#link = link;
    this.#requests = requests;
    this.#onClose = onClose;
    requests.speak(welcome.protocol);
    this.mismatch = mismatchWith(welcome);
    const lost = new AbortController();
    this.lost = lost.signal;
    this.#heartbeat = new Heartbeat(link, setup, () => this.status());
    link.listen({
      received: () => {},
      unreadable: () => {},
      lost: (error) => {
        this.#heartbeat.stop();
        lost.abort(error);
      },
    });
    if (this.mismatch === undefined) this.#heartbeat.start();
  }

  /** The board's own identity: 16 hexadecimal digits. */
  get id(): string {
    return this.welcome.boardId;
  }

  /** Whether this side let go of the board, as against losing it. */
  get closed(): boolean {
    return this.#link.closed;
  }

  /** What went wrong on the line as this side saw it, so far. */
  get linkCounters(): Readonly<LinkCounters> {
    return this.#link.countersNow();
  }

  /** Where the board stands. */
  async status(options: CallOptions = {}): Promise<Status> {
    return (await this.#ask({ type: 'ping' }, options)) as Status;
  }

  /** What went wrong on the line as the board saw it. */
  async counters(options: CallOptions = {}): Promise<BoardCounters> {
    return (await this.#ask({ type: 'diagnose' }, options)) as BoardCounters;
  }

  /** Gives the board the laptop's time, which it logs. */
  async setClock(options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'set-clock', epochMs: this.clock.epochMs() }, options);
    this.clockTold = true;
  }

  async getSetting(name: SettingName, options: CallOptions = {}): Promise<number> {
    const answer = await this.#ask({ type: 'get-setting', name }, options);
    return (answer as MessageOf<'setting'>).value;
  }

  /** @throws InvalidRequestError when the value is outside what the schema allows for this setting. */
  async setSetting(name: SettingName, value: number, options: CallOptions = {}): Promise<number> {
    if (!settingAllows(name, value)) {
      const { unit, meaning } = settings[name];
      const asked = 'values' in settings[name] ? 'give' : 'give a whole number from';
      throw new InvalidRequestError(
        `${name} cannot be ${value}: ${asked} ${settingRange(name)}${unit && ` ${unit}`} (${meaning})`,
      );
    }
    const answer = await this.#change({ type: 'set-setting', name, value }, options);
    return (answer as MessageOf<'setting'>).value;
  }

  /** Every setting's value. */
  async allSettings(options: CallOptions = {}): Promise<Record<SettingName, number>> {
    const values: Partial<Record<SettingName, number>> = {};
    for (const name of Object.keys(settings) as SettingName[])
      values[name] = await this.getSetting(name, options);
    return values as Record<SettingName, number>;
  }

  /** The recipes kept on the board. */
  async listRecipes(options: CallOptions = {}): Promise<RecipeLine[]> {
    return (await this.#list({ type: 'recipe-list' }, options)) as RecipeLine[];
  }

  /** A whole recipe as the board keeps it. @throws RefusedError (not-found) when it keeps none of that name. */
  async getRecipe(name: string, options: CallOptions = {}): Promise<BoardRecipe> {
    const recipe = recipeFromLines(await this.#list({ type: 'recipe-get', name }, options));
    if (recipe === undefined) throw new BoardLostError(this.path, `it told '${name}' in part only`);
    return recipe;
  }

  /** Uploads a recipe: the board keeps all of it or what it had before. */
  async sendRecipe(recipe: BoardRecipe, options: UploadOptions = {}): Promise<void> {
    this.#requireMatch();
    await uploadRecipe(this.#requests, recipe, options);
  }

  /** @throws RefusedError (not-found) when there is none of that name. */
  async removeRecipe(name: string, options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'recipe-remove', name }, options);
  }

  /** What the pedal starts next; the lamp stays as it is. */
  async choose(job: Job, name = '', options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'choose', job, name }, options);
  }

  /** The strip that the pedal starts next, once a strip is chosen. */
  async setStrip(strip: StripSettings, options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'strip-set', ...strip }, options);
  }

  /** Bath `bath`, from 1. @throws RefusedError (not-found) past the last. */
  async getBath(bath: number, options: CallOptions = {}): Promise<Bath> {
    const {
      type: _type,
      id: _id,
      ...kept
    } = (await this.#ask({ type: 'bath-get', bath }, options)) as MessageOf<'bath'>;
    return kept;
  }

  /** The row of baths, in order. */
  async allBaths(options: CallOptions = {}): Promise<Bath[]> {
    const row = [await this.getBath(1, options)];
    while (row.length < row[0]!.baths) row.push(await this.getBath(row.length + 1, options));
    return row;
  }

  /**
   * Sets the whole row in order: the board keeps all of it or, if anything goes wrong before the end, what it had
   * before. A bath that keeps its label keeps its tally. @throws InvalidRequestError when it fits no board.
   */
  async setBaths(row: readonly BathTimes[], options: CallOptions = {}): Promise<void> {
    this.#requireMatch();
    if (row.length < 1 || row.length > limits.baths)
      throw new InvalidRequestError(`a row has 1 to ${limits.baths} baths, ${row.length} were given`);
    await this.#requests.inTurn(async () => {
      for (const [index, times] of row.entries())
        await this.#requests.ask({ type: 'bath-set', bath: index + 1, baths: row.length, ...times }, options);
    });
  }

  /** Bath `bath`, from 1, was mixed anew: its tally starts from nothing. */
  async renewBath(bath: number, options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'bath-renew', bath }, options);
  }

  /**
   * The log from `fromSeq` on, batch by batch, each record once, up to its end. Works with a board of another version
   * too.
   */
  async *collect(fromSeq: number, options: CallOptions = {}): AsyncGenerator<LogBatch, void, void> {
    // A board tells from its oldest record on; knowing that one saves asking for what was let go of.
    const oldestSeq = this.mismatch ? 0 : (await this.status(options)).oldestSeq;
    yield* collectLog(this.#requests, this.#link, Math.max(fromSeq, oldestSeq), options.signal);
  }

  /** The records up to and with this one are on disk here: the board may let go of them. */
  async forget(uptoSeq: number, options: CallOptions = {}): Promise<void> {
    await this.#requests.askInTurn({ type: 'forget', uptoSeq }, options);
  }

  /** What the board tells of itself, from now until the signal ends it; the board is asked to tell, and to stop. */
  async *notices(options: CallOptions = {}): AsyncGenerator<Notice, void, void> {
    this.#requireMatch();
    const queue = new NoticeQueue(this.#link);
    try {
      await this.#change({ type: 'watch', on: true }, options);
      yield* queue.read(options.signal);
    } finally {
      queue.stop();
      if (this.#link.end === undefined) await this.#change({ type: 'watch', on: false }, {});
    }
  }

  /** Lets go of the port. A print that runs goes on. */
  async close(): Promise<void> {
    this.#heartbeat.stop();
    this.#onClose();
    await this.#link.close();
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.close();
  }

  async #ask(wish: Wish, options: CallOptions): Promise<Message> {
    this.#requireMatch();
    return (await this.#requests.ask(wish, options)).answer;
  }

  async #change(wish: Wish, options: CallOptions): Promise<Message> {
    this.#requireMatch();
    return (await this.#requests.askInTurn(wish, options)).answer;
  }

  /** The lines of an answer that ends with `ended`, all of them. */
  async #list(wish: Wish, options: CallOptions): Promise<Message[]> {
    this.#requireMatch();
    for (let attempt = 0; attempt < LIST_ATTEMPTS; attempt++) {
      let lines: Message[] = [];
      const { answer } = await this.#requests.ask(wish, {
        signal: options.signal,
        take: (line) => (line.type === 'ended' || lines.push(line) > LONGEST_LIST ? 'done' : 'more'),
        again: () => {
          lines = [];
        },
      });
      if (answer.type === 'ended' && answer.count === lines.length) return lines;
    }
    throw new BoardLostError(this.path, `its list kept losing lines (asked ${LIST_ATTEMPTS} times)`);
  }

  #requireMatch(): void {
    if (this.mismatch !== undefined) throw this.mismatch;
  }
}

/** More lines than any list of a board can have. */
const LONGEST_LIST = 0xff;

function mismatchWith(welcome: Welcome): VersionMismatchError | undefined {
  const { protocol, schemaHash, firmwareVersion } = welcome;
  if (protocol === laptopVersion.protocol && schemaHash === laptopVersion.schemaHash) return undefined;
  return new VersionMismatchError(laptopVersion, { protocol, schemaHash, version: firmwareVersion });
}
