import {
  clockRangeMs,
  type EndOf,
  type LineOf,
  limits,
  type MessageOf,
  type RequestType,
  type SettingName,
  settingAllows,
  settingRange,
  settings,
} from '../../../shared-protocol/index.js';
import type { Clock } from '../../clock.js';
import type { Bath, BathTimes, TemperatureTime } from '../../recipe/baths/bath.js';
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { StripSettings } from '../../recipe/strip-file.js';
import {
  DamagedLineError,
  InvalidRequestError,
  RefusedError,
  VersionMismatchError,
  WrongAnswerError,
} from '../errors.js';
import type { Wish } from './answer-reader.js';
import { mostEntries, mostEntriesOfAnyBoard } from './answer-sense.js';
import { laptopVersion, type Welcome } from './handshake.js';
import { Heartbeat } from './heartbeat.js';
import type { Link, LinkCounters } from './link.js';
import type { LinkSetup } from './link-options.js';
import { type LogBatch, LogCollection } from './log-collection.js';
import { type Notice, NoticeQueue } from './notices.js';
import { recipeFromLines, type UploadOptions, uploadRecipe } from './recipe-upload.js';
import type { Requests } from './requests.js';

export type Status = MessageOf<'status'>;
export type BoardCounters = MessageOf<'counters'>;
export type RecipeLine = MessageOf<'recipe-line'>;
export type Job = Status['job'];
export type MakingWay = MessageOf<'way'>['stands'];
export interface CallOptions {
  readonly signal?: AbortSignal;
}

/** How long a board has to say that it tells no more of itself. */
const PARTING_MS = 500;

type ListRequest = 'recipe-list' | 'recipe-get';

/** A list that lost a line on the way is asked for again, so often. */
const LIST_ATTEMPTS = 4;

/**
 * A board that has said who it is. Every call may throw BoardLostError, after which every further call does;
 * RefusedError with the board's reason; WrongAnswerError when what it says cannot be right, DamagedLineError when too
 * little of it arrives; and the reason of an aborted signal.
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
    this.#heartbeat = new Heartbeat(link, setup, welcome, () => this.status());
    link.listen({
      received: () => {},
      unreadable: () => {},
      lost: (error) => {
        this.#heartbeat.stop();
        lost.abort(error);
      },
    });
    if (this.mismatch !== undefined) return;
    requests.beginConversation();
    this.#heartbeat.start();
  }

  /** The board's own identity: 16 hexadecimal digits. */
  get id(): string {
    return this.welcome.boardId;
  }

  /** Whether this side let go of the board, as against losing it. */
  get closed(): boolean {
    return this.#link.closed;
  }

  /**
   * Tells when nothing comes though something was asked, the heartbeat among it: for how long, each time that it is asked
   * again; and with 0 when the board speaks again. Calling the answer ends it.
   */
  onSilence(tell: (silentMs: number) => void): () => void {
    let isSilent = false;
    const heard = () => {
      if (isSilent) tell(0);
      isSilent = false;
    };
    const silent = () => {
      isSilent = true;
      tell(this.clock.nowMs() - this.#link.lastHeardMs);
    };
    return this.#link.listen({ received: heard, unreadable: heard, silent, lost: () => {} });
  }

  /** What went wrong on the line as this side saw it, so far. */
  get linkCounters(): Readonly<LinkCounters> {
    return this.#link.countersNow();
  }

  /** Where the board stands. */
  async status(options: CallOptions = {}): Promise<Status> {
    return this.#ask({ type: 'ping' }, options);
  }

  /** What went wrong on the line as the board saw it. */
  async counters(options: CallOptions = {}): Promise<BoardCounters> {
    return this.#ask({ type: 'diagnose' }, options);
  }

  /** Gives the board the laptop's time, which it logs. */
  async setClock(options: CallOptions = {}): Promise<void> {
    const epochMs = this.clock.epochMs();
    if (!isLikelyTime(epochMs))
      throw new InvalidRequestError(
        "this laptop's clock is not set: no board takes a time before the year 2000 or after 2099; set it",
      );
    await this.#change({ type: 'set-clock', epochMs }, options);
    this.clockTold = true;
  }

  async getSetting(name: SettingName, options: CallOptions = {}): Promise<number> {
    return (await this.#ask({ type: 'get-setting', name }, options)).value;
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
    return (await this.#change({ type: 'set-setting', name, value }, options)).value;
  }

  /** Every setting's value. */
  async allSettings(options: CallOptions = {}): Promise<Record<SettingName, number>> {
    const values: Partial<Record<SettingName, number>> = {};
    for (const name of Object.keys(settings) as SettingName[])
      values[name] = await this.getSetting(name, options);
    return values as Record<SettingName, number>;
  }

  /** What the printer calls this board; empty where it has no name. */
  async getName(options: CallOptions = {}): Promise<string> {
    return (await this.#ask({ type: 'name-get' }, options)).name;
  }

  /** Names the board, or takes its name away with an empty one; it keeps that without power. */
  async setName(name: string, options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'name-set', name }, options);
  }

  /** The recipes kept on the board. */
  async listRecipes(options: CallOptions = {}): Promise<RecipeLine[]> {
    return this.#list({ type: 'recipe-list' }, options, (lines: RecipeLine[]) =>
      new Set(lines.map(({ name }) => name)).size === lines.length ? lines : undefined,
    );
  }

  /** A whole recipe as the board keeps it. @throws RefusedError (not-found) when it keeps none of that name. */
  async getRecipe(name: string, options: CallOptions = {}): Promise<BoardRecipe> {
    return this.#list({ type: 'recipe-get', name }, options, recipeFromLines);
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
    const { type: _type, id: _id, ...kept } = await this.#ask({ type: 'bath-get', bath }, options);
    return kept;
  }

  /** The row of baths, in order. */
  async allBaths(options: CallOptions = {}): Promise<Bath[]> {
    const row = [await this.getBath(1, options)];
    const { baths } = row[0]!;
    while (row.length < baths) {
      const next = await this.getBath(row.length + 1, options);
      if (next.baths !== baths)
        throw new WrongAnswerError(
          this.path,
          'bath-get',
          `a row of ${baths} baths came, then of ${next.baths}`,
        );
      row.push(next);
    }
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

  /** The times by temperature of all baths. */
  async allBathTimes(options: CallOptions = {}): Promise<TemperatureTime[]> {
    const times: TemperatureTime[] = [];
    for (let point = 1; point <= limits.bathPoints; point++) {
      const next = await this.#pointOrNone(point, options);
      if (next === undefined) break;
      const { type: _type, id: _id, point: _point, points, ...time } = next;
      times.push(time);
      if (point >= points) break;
    }
    return times;
  }

  async #pointOrNone(point: number, options: CallOptions) {
    try {
      return await this.#ask({ type: 'point-get', point }, options);
    } catch (error) {
      if (error instanceof RefusedError && error.code === 'not-found') return undefined;
      throw error;
    }
  }

  /**
   * Sets the times by temperature of all baths, or with none that there are none: the board keeps all of them or what it
   * had before. They are of the bath whose label they name. @throws InvalidRequestError when they fit no board.
   */
  async setBathTimes(times: readonly TemperatureTime[], options: CallOptions = {}): Promise<void> {
    this.#requireMatch();
    if (times.length > limits.bathPoints)
      throw new InvalidRequestError(
        `a board keeps ${limits.bathPoints} times by temperature, ${times.length} were given`,
      );
    if (times.length === 0) await this.#change({ type: 'points-clear' }, options);
    await this.#requests.inTurn(async () => {
      for (const [index, time] of times.entries())
        await this.#requests.ask(
          { type: 'point-set', point: index + 1, points: times.length, ...time },
          options,
        );
    });
  }

  /** Bath `bath`, from 1, was mixed fresh: its tally starts from nothing. */
  async renewBath(bath: number, options: CallOptions = {}): Promise<void> {
    await this.#change({ type: 'bath-renew', bath }, options);
  }

  /**
   * The log from `fromSeq` on, batch by batch, each record once, up to its end. Works with a board of another version
   * too.
   */
  async *collect(fromSeq: number, options: CallOptions = {}): AsyncGenerator<LogBatch, void, void> {
    // A board tells from its oldest record on; knowing that one saves asking for what was let go of.
    const oldestSeq = this.mismatch ? undefined : (await this.status(options)).oldestSeq;
    const collection = new LogCollection(this.#requests, this.#link, {
      fromSeq: Math.max(fromSeq, oldestSeq ?? 0),
      beginsThere: oldestSeq !== undefined,
      mostEntries: this.mismatch ? mostEntriesOfAnyBoard : mostEntries,
      clock: this.clock,
      signal: options.signal,
    });
    yield* collection.batches();
  }

  /** The records up to and with this one are on disk here: the board may let go of them. */
  async forget(uptoSeq: number, options: CallOptions = {}): Promise<void> {
    await this.#requests.askInTurn({ type: 'forget', uptoSeq }, options);
  }

  /**
   * Asks the board to make way for new firmware: its panel asks the hand at the knob. Works with a board of another
   * version too. @throws RefusedError when it cannot be now
   */
  async askToMakeWay(options: CallOptions = {}): Promise<void> {
    await this.#requests.askInTurn({ type: 'make-way', ask: true }, options);
  }

  /** How that stands. */
  async makingWay(options: CallOptions = {}): Promise<MakingWay> {
    return (await this.#requests.askInTurn({ type: 'make-way', ask: false }, options)).answer.stands;
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
      if (this.#link.end === undefined) await this.#endNotices();
    }
  }

  /** A board in full flow answers late. It is not waited for: what nobody reads it drops, and a hello ends it too. */
  async #endNotices(): Promise<void> {
    const patience = new AbortController();
    const cancel = this.clock.after(PARTING_MS, () => patience.abort());
    await this.#change({ type: 'watch', on: false }, { signal: patience.signal }).catch((error: unknown) => {
      if (!patience.signal.aborted) throw error;
    });
    cancel();
  }

  /** Lets go of the port. A print that runs goes on. */
  async close(): Promise<void> {
    this.#onClose();
    await this.#link.close();
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.close();
  }

  async #ask<Type extends RequestType>(wish: Wish<Type>, options: CallOptions): Promise<EndOf<Type>> {
    this.#requireMatch();
    return (await this.#requests.ask(wish, options)).answer;
  }

  async #change<Type extends RequestType>(wish: Wish<Type>, options: CallOptions): Promise<EndOf<Type>> {
    this.#requireMatch();
    return (await this.#requests.askInTurn(wish, options)).answer;
  }

  /** What `whole` makes of all the lines of an answer that ends with `ended`; undefined is not all of them. */
  async #list<Line extends LineOf<ListRequest>, Result>(
    wish: Wish<ListRequest>,
    options: CallOptions,
    whole: (lines: Line[]) => Result | undefined,
  ): Promise<Result> {
    this.#requireMatch();
    const damagedBefore = this.#damage;
    for (let attempt = 0; attempt < LIST_ATTEMPTS; attempt++) {
      let lines: Line[] = [];
      const { answer } = await this.#requests.ask<ListRequest>(wish, {
        signal: options.signal,
        take: (line) => lines.push(line as Line),
        again: () => {
          lines = [];
        },
      });
      const result = answer.count === lines.length ? whole(lines) : undefined;
      if (result !== undefined) return result;
    }
    const asked = `though asked ${LIST_ATTEMPTS} times`;
    if (this.#damage > damagedBefore)
      throw new DamagedLineError(this.path, `a list never arrives whole, ${asked}`);
    throw new WrongAnswerError(this.path, wish.type, `a list came that is not whole, ${asked}`);
  }

  get #damage(): number {
    const { badLines, badCrcs } = this.#link.counters;
    return badLines + badCrcs;
  }

  #requireMatch(): void {
    if (this.mismatch !== undefined) throw this.mismatch;
  }
}

/** Whether a board takes it for a time. */
export function isLikelyTime(epochMs: number): boolean {
  return epochMs >= clockRangeMs.min && epochMs <= clockRangeMs.max;
}

function mismatchWith(welcome: Welcome): VersionMismatchError | undefined {
  const { protocol, schemaHash, firmwareVersion } = welcome;
  if (protocol === laptopVersion.protocol && schemaHash === laptopVersion.schemaHash) return undefined;
  return new VersionMismatchError(laptopVersion, { protocol, schemaHash, version: firmwareVersion });
}
