/** What dates are worked out from: one record of a run, which is what a board logs from one start to the next. */
export interface RunPoint {
  /** Milliseconds since the board's start, in 32 bits. */
  readonly uptimeMs: number;
  /** What a clock mark says that the laptop's time was, in milliseconds since 1970. */
  readonly toldMs?: number | null | undefined;
}

/** The point before the first of a stretch, where dating goes on from. */
export interface DatedPoint {
  readonly uptimeMs: number;
  readonly atMs: number;
}

/** Boards count milliseconds since their start in 32 bits: after 49.7 days they begin anew. */
const UPTIME_SPAN_MS = 2 ** 32;
const DAY_MS = 86_400_000;
/**
 * An entry may bear an earlier uptime than the one before it: light is logged when it is over, by when it began. A
 * step back by less than this is one; a longer one is the count begun anew.
 */
const LONGEST_STEP_BACK_MS = DAY_MS;
/** So well a laptop's clock and a board's agree after weeks; crystals differ by a few minutes. */
const CLOCKS_AGREE_MS = 3_600_000;
/** A laptop whose clock is outside of these has lost it: the battery of its clock is empty, or it was never set. */
export const usableTimes = { fromMs: Date.UTC(2020, 0, 1), untilMs: Date.UTC(2100, 0, 1) };

/** Whether a laptop's time can be right. */
export function isUsableTime(toldMs: unknown): toldMs is number {
  return typeof toldMs === 'number' && toldMs >= usableTimes.fromMs && toldMs < usableTimes.untilMs;
}

/**
 * When each of these points of one run was, in milliseconds since 1970, in the order of their sequence: worked out from
 * the last usable mark before it, or else from the first after it; null where there is none. A board's clock only goes
 * forward: a laptop that tells an earlier time than the one before it would have has had its clock set back, and then
 * the time told first goes on.
 * @param from the point before the first of these, when its date is known
 */
export function datesOf(points: readonly RunPoint[], from?: DatedPoint): (number | null)[] {
  const steps = points.map(({ uptimeMs }, at) => {
    const before = at === 0 ? from : points[at - 1];
    return before === undefined ? 0 : stepMs(before.uptimeMs, uptimeMs);
  });
  const dates: (number | null)[] = points.map(() => null);
  let mark = from === undefined ? undefined : { at: -1, atMs: from.atMs };
  let steppedMs = 0;
  for (const [at, { toldMs }] of points.entries()) {
    steppedMs += steps[at]!;
    if (!isUsableTime(toldMs)) continue;
    if (mark === undefined) {
      dateBackwards(dates, steps, at, toldMs);
      mark = { at, atMs: toldMs };
      steppedMs = 0;
      continue;
    }
    // Set back, or a line that lay in the wire for weeks: no mark, so that missed rounds are counted from the one before.
    if (toldMs < mark.atMs + steppedMs - CLOCKS_AGREE_MS) continue;
    addMissedRounds(steps, mark.at + 1, at, toldMs - mark.atMs);
    const goesOnMs = dateForwards(dates, steps, mark, at);
    mark = { at, atMs: Math.max(toldMs, goesOnMs) };
    dates[at] = mark.atMs;
    steppedMs = 0;
  }
  if (mark !== undefined) dateForwards(dates, steps, mark, points.length - 1);
  return dates;
}

/** From one uptime to the next in the sequence: forward, once round at the most, or a little back. */
function stepMs(beforeMs: number, afterMs: number): number {
  const forwardMs = (((afterMs - beforeMs) % UPTIME_SPAN_MS) + UPTIME_SPAN_MS) % UPTIME_SPAN_MS;
  return forwardMs > UPTIME_SPAN_MS - LONGEST_STEP_BACK_MS ? forwardMs - UPTIME_SPAN_MS : forwardMs;
}

/**
 * A board that logged nothing for 49.7 days went round without a trace. Where two marks are whole rounds further apart
 * than the uptimes say, both are right and rounds were missed, most likely in the longest pause between them. A pause of
 * a few hours less than a round looks like a step back by those.
 */
function addMissedRounds(steps: number[], first: number, last: number, betweenMs: number): void {
  let steppedMs = 0;
  let longest = first;
  for (let at = first; at <= last; at++) {
    steppedMs += steps[at]!;
    if (Math.abs(steps[at]!) > Math.abs(steps[longest]!)) longest = at;
  }
  const rounds = Math.round((betweenMs - steppedMs) / UPTIME_SPAN_MS);
  const unexplainedMs = Math.abs(betweenMs - steppedMs - rounds * UPTIME_SPAN_MS);
  if (rounds > 0 && unexplainedMs <= CLOCKS_AGREE_MS) steps[longest]! += rounds * UPTIME_SPAN_MS;
}

/** Dates what follows a mark, up to and with `last`, and tells the date of that one. */
function dateForwards(
  dates: (number | null)[],
  steps: readonly number[],
  mark: { readonly at: number; readonly atMs: number },
  last: number,
): number {
  let atMs = mark.atMs;
  if (mark.at >= 0) dates[mark.at] = atMs;
  for (let at = mark.at + 1; at <= last; at++) {
    atMs += steps[at]!;
    dates[at] = atMs;
  }
  return atMs;
}

function dateBackwards(
  dates: (number | null)[],
  steps: readonly number[],
  mark: number,
  toldMs: number,
): void {
  let atMs = toldMs;
  dates[mark] = atMs;
  for (let at = mark; at > 0; at--) {
    atMs -= steps[at]!;
    dates[at - 1] = atMs;
  }
}
