/** So many events at one moment are a loop that would never end. */
const MOST_EVENTS_AT_ONE_MOMENT = 100_000;

interface Entry {
  readonly atUs: number;
  readonly run: () => void;
}

/**
 * What is going to happen, in order of time and, at one moment, in order of asking. Time goes on only when
 * `runUntil` is called: hours in milliseconds for tests, or little by little under a `RealTimePace`.
 * Times are whole microseconds.
 */
export class Timeline {
  nowUs = 0;
  /** Called when something is asked for that comes before everything else. */
  earlier: () => void = () => {};
  readonly #entries: Entry[] = [];
  #running = false;

  /** When the next thing happens, or undefined. */
  get nextUs(): number | undefined {
    return this.#entries[0]?.atUs;
  }

  /** Has `run` called at `atUs`, or now if that is past. Calling the answer takes it back. */
  at(atUs: number, run: () => void): () => void {
    if (!Number.isFinite(atUs)) throw new RangeError(`${atUs} is no moment`);
    const entry = { atUs: Math.max(Math.ceil(atUs), this.nowUs), run };
    let place = this.#entries.length;
    while (place > 0 && this.#entries[place - 1]!.atUs > entry.atUs) place--;
    this.#entries.splice(place, 0, entry);
    if (place === 0 && !this.#running) this.earlier();
    return () => this.#remove(entry);
  }

  /** Lets time go on to `untilUs` and does everything that is due. Called from inside an event it does nothing. */
  runUntil(untilUs: number): void {
    if (this.#running) return;
    this.#running = true;
    let atOneMoment = 0;
    try {
      for (let next = this.nextUs; next !== undefined && next <= untilUs; next = this.nextUs) {
        atOneMoment = next === this.nowUs ? atOneMoment + 1 : 0;
        if (atOneMoment > MOST_EVENTS_AT_ONE_MOMENT) throw new Error(`time stands still at ${next} us`);
        this.nowUs = next;
        this.#entries.shift()!.run();
      }
      this.nowUs = Math.max(this.nowUs, untilUs);
    } finally {
      this.#running = false;
    }
  }

  #remove(entry: Entry): void {
    const place = this.#entries.indexOf(entry);
    if (place >= 0) this.#entries.splice(place, 1);
  }
}
