import type { LineOf } from '../../../shared-protocol/index.js';
import type { Link } from './link.js';
import { type LogRecord, recordOf, recordOfForeignLine } from './log-record.js';
import type { Stretch } from './log-window.js';
import type { Requests } from './requests.js';

/** Asked for at once, so that the wire carries the next while this side works on the last; boards take three lists. */
const OUTSTANDING = 2;

/** What one `collect` brought. */
export interface Told {
  readonly records: ReadonlyMap<number, LogRecord>;
  /** How the board ended it; undefined when that got lost, or the request did. */
  readonly end: { readonly nextSeq: number; readonly endSeq: number } | undefined;
  /** It ended, and no line came damaged that may have been one of it. */
  readonly isClean: boolean;
}

/** A request under way. */
interface Asked {
  readonly records: Map<number, LogRecord>;
  readonly giveUp: AbortController;
  damageBefore: number;
  damageAfter: number | undefined;
}

interface Waiting {
  readonly fromSeq: number;
  readonly begin: () => void;
}

/**
 * Asks for stretches of the log, a few at once, the earliest first. A board answers them one after the other in the
 * order in which they came; so a line of a later one says that nothing more comes of those before it.
 */
export class StretchAsker {
  readonly #requests: Requests;
  readonly #link: Link;
  readonly #signal: AbortSignal | undefined;
  /** In the order in which the board answers. */
  readonly #underWay: Asked[] = [];
  readonly #waiting: Waiting[] = [];
  #free = OUTSTANDING;

  constructor(requests: Requests, link: Link, signal: AbortSignal | undefined) {
    this.#requests = requests;
    this.#link = link;
    this.#signal = signal;
  }

  /** Whoever waits for a turn gets none any more. */
  stop(): void {
    this.#waiting.length = 0;
  }

  async ask(stretch: Stretch): Promise<Told> {
    await this.#turn(stretch.fromSeq);
    const asked: Asked = {
      records: new Map(),
      giveUp: new AbortController(),
      damageBefore: this.#damage,
      damageAfter: undefined,
    };
    this.#underWay.push(asked);
    try {
      const end = await this.#send(stretch, asked);
      const isClean = end !== undefined && asked.damageBefore === (asked.damageAfter ?? this.#damage);
      return { records: asked.records, end, isClean };
    } finally {
      this.#takeOff(asked);
      this.#passTurn();
    }
  }

  /** The answer's end; undefined when another answer went past it. */
  async #send({ fromSeq, count }: Stretch, asked: Asked): Promise<Told['end']> {
    const { signal } = asked.giveUp;
    const keep = (record: LogRecord | undefined) => {
      if (!record) return;
      asked.records.set(record.seq, record);
      this.#heard(asked);
    };
    try {
      const { answer } = await this.#requests.ask(
        { type: 'collect', fromSeq, count },
        {
          signal: this.#signal ? AbortSignal.any([this.#signal, signal]) : signal,
          again: () => this.#sentAgain(asked),
          take: (record: LineOf<'collect'>) => keep(recordOf(record)),
          takeUnreadable: (line) => keep(recordOfForeignLine(line)),
        },
      );
      return answer;
    } catch (error) {
      if (error !== signal.reason) throw error;
      return undefined;
    }
  }

  #heard(asked: Asked): void {
    const place = this.#underWay.indexOf(asked);
    if (place < 0) return;
    for (const passed of this.#underWay.splice(0, place)) {
      // One whose end is here already is not reached by that any more.
      passed.damageAfter = this.#damage;
      passed.giveUp.abort();
    }
    for (const later of this.#underWay.slice(1)) later.damageBefore = this.#damage;
  }

  /** A board that never heard of it answers it after the others; one that is telling it takes no notice. */
  #sentAgain(asked: Asked): void {
    if (asked.records.size > 0) return;
    this.#takeOff(asked);
    this.#underWay.push(asked);
  }

  #takeOff(asked: Asked): void {
    const place = this.#underWay.indexOf(asked);
    if (place >= 0) this.#underWay.splice(place, 1);
  }

  async #turn(fromSeq: number): Promise<void> {
    if (this.#free > 0) {
      this.#free--;
      return;
    }
    await new Promise<void>((begin) => {
      this.#waiting.push({ fromSeq, begin });
      this.#waiting.sort((one, other) => one.fromSeq - other.fromSeq);
    });
  }

  #passTurn(): void {
    const next = this.#waiting.shift();
    if (next) next.begin();
    else this.#free++;
  }

  get #damage(): number {
    return this.#link.damagedLines;
  }
}
