import { recordOf } from '../../../host/board/link/log-record.js';
import type { ArchivedRecord } from '../../../host/records/archive/archive.js';
import { decodeLine, type MessageOf, readRecord } from '../../../shared-protocol/index.js';
import type { WorldBoard } from './world-board.js';

/** From the pedal to the lamp: a hold of 0.8 s, the log's entry, and the erases that it may have to wait for. */
const LONGEST_WAIT_US = 1_600_000;
const LONGEST_LIGHT_US = 180_000_000;
/** Between two pulses of one pass, which go on by themselves while the panel says that a press pauses them. */
const PULSE_GAP_US = 1_000_000;

/** Sees everything on the board's side of the noise, and knows what must hold. */
export class Witness {
  readonly faults: string[] = [];
  /** What the board said of each entry, by its number. */
  readonly #told = new Map<number, string>();
  readonly #touchedUs: () => number;
  #rest = '';
  #litUs = 0;
  #darkUs = Number.NEGATIVE_INFINITY;
  /** Lamp time since the last start, and in all. */
  #litSinceStartUs = 0;
  #litInAllUs = 0;
  pulses = 0;
  /** Times that the board left for new firmware. */
  updates = 0;
  /** Exposures in the log, by their kind. */
  readonly exposures: Record<string, number> = {};
  sectorsWorn = false;
  /** What the laptop's disk lost after it was kept and forgotten. */
  rotten: ReadonlySet<number> = new Set();
  /** Exposures that were broken off with the lamp on: the log must own up to each. */
  #brokenOff = 0;
  /** When each run began; undefined for a number that two runs had. */
  readonly #startUs = new Map<number, number | undefined>();
  #lastStartUs = 0;
  readonly #board: WorldBoard;

  constructor(board: WorldBoard, touchedUs: () => number) {
    this.#board = board;
    this.#touchedUs = touchedUs;
    board.watch({
      lamp: ({ on, atUs }) => (on ? this.#lit(atUs) : this.#dark(atUs)),
      started: () => {
        this.#litSinceStartUs = 0;
        this.#rest = '';
        this.#lastStartUs = board.home.nowUs;
      },
      updated: () => {
        this.updates++;
      },
      breakingOff: () => {
        if (board.home.lampOn && this.#saysPause) this.#brokenOff++;
      },
    });
  }

  /** What the board sends, before anything happens to it on the wire. */
  readonly hear = (bytes: Buffer): void => {
    const lines = (this.#rest + bytes.toString('latin1')).split('\n');
    this.#rest = lines.pop()!;
    for (const line of lines) this.#hearLine(line);
  };

  /** What was left of a line is not gone on with. */
  readonly forgetPart = (): void => {
    this.#rest = '';
  };

  #hearLine(line: string): void {
    const decoded = decodeLine(line);
    if (!decoded.ok) {
      this.faults.push(`the board said ${JSON.stringify(line)}: ${decoded.why}`);
      return;
    }
    if (decoded.message.type === 'welcome') this.#noteStart(decoded.message.boot);
    const record = recordOf(decoded.message);
    if (record === undefined) return;
    const fields = JSON.stringify([record.type, ...record.fields]);
    const before = this.#told.get(record.seq);
    if (before !== undefined && before !== fields)
      this.faults.push(`entry ${record.seq} was ${before}, then ${fields}`);
    this.#told.set(record.seq, fields);
  }

  #noteStart(boot: number): void {
    const known = this.#startUs.get(boot) ?? this.#lastStartUs;
    this.#startUs.set(boot, known === this.#lastStartUs ? known : undefined);
  }

  /** When a run began by the world's clock; undefined where no laptop saw it. */
  startUs(boot: number): number | undefined {
    return this.#startUs.get(boot);
  }

  #lit(atUs: number): void {
    this.#litUs = atUs;
    this.pulses++;
    if (atUs - this.#touchedUs() > LONGEST_WAIT_US && !this.#goesOn(atUs))
      this.faults.push(`the lamp came on at ${atUs} us by itself`);
  }

  #goesOn(atUs: number): boolean {
    return atUs - this.#darkUs < PULSE_GAP_US && this.#saysPause;
  }

  get #saysPause(): boolean {
    return this.#board.home.panel[0]?.startsWith('Press pause') ?? false;
  }

  #dark(atUs: number): void {
    this.#darkUs = atUs;
    const us = atUs - this.#litUs;
    this.#litSinceStartUs += us;
    this.#litInAllUs += us;
    if (us > LONGEST_LIGHT_US) this.faults.push(`the lamp was on for ${us} us`);
  }

  /** Holds what was archived in the end against what was seen. */
  judge(found: readonly ArchivedRecord[], lastBoot: number): void {
    const archived = found.filter(({ seq }) => !this.rotten.has(seq));
    this.faults.push(...this.#board.complaints);
    this.#judgeNumbers(archived);
    for (const { seq, type, fields } of archived) {
      const told = this.#told.get(seq);
      const kept = JSON.stringify([type, ...fields]);
      if (told !== kept) this.faults.push(`entry ${seq} is archived as ${kept}, the board said ${told}`);
    }
    this.#judgeLight(archived, lastBoot);
    const owned = archived
      .map(readRecord)
      .filter((entry) => entry?.type === 'exposure' && entry.outcome === 'interrupted');
    if (owned.length < this.#brokenOff && !this.#mayLack)
      this.faults.push(
        `${this.#brokenOff} exposures were broken off, the log has ${owned.length} as interrupted`,
      );
  }

  get #mayLack(): boolean {
    return this.sectorsWorn || this.rotten.size > 0;
  }

  #judgeNumbers(archived: readonly ArchivedRecord[]): void {
    const numbers = archived.map(({ seq }) => seq);
    const last = Math.max(0, ...numbers);
    if (new Set(numbers).size !== numbers.length) this.faults.push('an entry is archived twice');
    if (new Set(archived.map(({ log }) => log)).size > 1) this.faults.push('one log was archived as two');
    if (this.sectorsWorn) return;
    for (let seq = 1; seq <= last; seq++)
      if (!numbers.includes(seq) && !this.rotten.has(seq))
        this.faults.push(`entry ${seq} of ${last} is lost`);
  }

  #judgeLight(archived: readonly ArchivedRecord[], lastBoot: number): void {
    let [loggedMs, loggedLastMs, exposures] = [0, 0, 0];
    for (const record of archived) {
      const entry = readRecord(record);
      if (entry?.type !== 'exposure') continue;
      exposures++;
      this.exposures[entry.kind] = (this.exposures[entry.kind] ?? 0) + 1;
      loggedMs += entry.onMs;
      if (record.boot === lastBoot) loggedLastMs += entry.onMs;
      this.#judgeDose(entry);
    }
    const roundingMs = exposures * 0.5 + this.pulses * this.#board.pulseErrorMs + 0.001;
    if (loggedMs > this.#litInAllUs / 1000 + roundingMs)
      this.faults.push(`the log has ${loggedMs} ms of light, the lamp gave ${this.#litInAllUs / 1000} ms`);
    if (!this.#mayLack && Math.abs(loggedLastMs - this.#litSinceStartUs / 1000) > roundingMs)
      this.faults.push(
        `since the last start the log has ${loggedLastMs} ms, the lamp gave ${this.#litSinceStartUs / 1000} ms`,
      );
  }

  #judgeDose({ seq, outcome, kind, plannedMs, doseMs }: MessageOf<'exposure'>): void {
    if (outcome === 'complete' && kind !== 'focus' && Math.abs(plannedMs - doseMs) > 1)
      this.faults.push(`entry ${seq}: ${plannedMs} ms planned, ${doseMs} ms given, called complete`);
  }
}
