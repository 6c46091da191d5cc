/** A moment of a board's clock whose date and time the laptop told. */
interface ClockMark {
  readonly seq: number;
  readonly uptimeMs: number;
  readonly epochMs: number;
}

/** Boards count milliseconds since their start in 32 bits: after seven weeks they begin anew. */
const UPTIME_SPAN_MS = 2 ** 32;

/** The dates and times of one run of a board, from its start to its end, as far as a laptop told them. */
export class RunClock {
  readonly #marks: ClockMark[] = [];

  /**
   * Marks must be added in the order of their sequence. The board's clock only goes forward: a laptop that tells an
   * earlier time than the one before it would have has had its clock set back, and then the time told first goes on.
   */
  add(mark: ClockMark): void {
    const before = this.#marks.at(-1);
    const goesOnMs = before && before.epochMs + difference(mark.uptimeMs, before.uptimeMs);
    this.#marks.push({ ...mark, epochMs: Math.max(mark.epochMs, goesOnMs ?? mark.epochMs) });
  }

  /**
   * When the record was made, in milliseconds since 1970: reckoned from the last mark before it, or else from the
   * first after it; undefined in a run that no laptop told the time in.
   */
  epochMs(seq: number, uptimeMs: number): number | undefined {
    const mark = this.#marks.findLast((each) => each.seq <= seq) ?? this.#marks[0];
    return mark && mark.epochMs + difference(uptimeMs, mark.uptimeMs);
  }
}

/** `later` minus `earlier` on a clock that wraps: the shorter way round. */
function difference(later: number, earlier: number): number {
  const forward = (later - earlier + UPTIME_SPAN_MS) % UPTIME_SPAN_MS;
  return forward < UPTIME_SPAN_MS / 2 ? forward : forward - UPTIME_SPAN_MS;
}
