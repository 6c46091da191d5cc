import type { ArchivedRecord } from '../../../host/records/archive/archive.js';
import { isUsableTime } from '../../../host/records/archive/dating.js';

const UPTIME_SPAN_MS = 2 ** 32;
/** A mark may come late: the line delays and loses it, and a busy board has it told again. */
const LATE_MS = 120_000;
const MINUTE_MS = 60_000;

/** When things were, by the world's own clock. */
export interface TrueTimes {
  /** When the run of this number began, in milliseconds since 1970; undefined where nobody saw it. */
  startMs(boot: number): number | undefined;
  /** How far the laptop's clock was off, at one time or another. */
  readonly offsetsMs: Iterable<number>;
}

/**
 * Words for every date that follows from no mark of its run. Uptimes are counted in 32 bits, and so is what is held
 * here: that nobody logged anything for a whole round is told by marks alone.
 */
export function dateFaults(archived: readonly ArchivedRecord[], times: TrueTimes): string[] {
  const offsetsMs = [...times.offsetsMs, ...offsetsByHandMs(archived, times)];
  const marked = new Set(archived.filter(isUsableMark).map(({ boot }) => boot));
  return archived.flatMap(({ seq, boot, uptimeMs, atMs }) => {
    if ((atMs !== null) !== marked.has(boot))
      return [
        `entry ${seq} is dated ${atMs}, and run ${boot} has ${marked.has(boot) ? 'a' : 'no'} usable mark`,
      ];
    const startMs = times.startMs(boot);
    if (atMs === null || startMs === undefined) return [];
    const wasMs = startMs + uptimeMs;
    return offsetsMs.some((offsetMs) => isWholeRounds(atMs - wasMs - offsetMs))
      ? []
      : [
          `entry ${seq} is dated ${atMs}, it was logged at ${wasMs}, and no clock was off by ${atMs - wasMs} ms`,
        ];
  });
}

/**
 * How far off the knob set the board's clock, which the hands of a world turn as they like: to whole minutes, as no
 * laptop tells the time.
 */
export function offsetsByHandMs(archived: readonly ArchivedRecord[], times: TrueTimes): number[] {
  return archived.filter(isUsableMark).flatMap(({ boot, uptimeMs, fields }) => {
    const [toldMs, startMs] = [Number(fields[3]), times.startMs(boot)];
    return toldMs % MINUTE_MS === 0 && startMs !== undefined ? [toldMs - startMs - uptimeMs] : [];
  });
}

function isUsableMark({ type, fields }: ArchivedRecord): boolean {
  return type === 'clock' && isUsableTime(fields[3]);
}

function isWholeRounds(ms: number): boolean {
  return Math.abs(ms - Math.round(ms / UPTIME_SPAN_MS) * UPTIME_SPAN_MS) <= LATE_MS;
}

/** With a clock that was always right: what stands between two marks is dated to the very round. */
export function roundFaults(
  archived: readonly ArchivedRecord[],
  spans: readonly WorkSpan[],
  times: TrueTimes,
): string[] {
  return archived.flatMap((record, at) => {
    const isHere = (other: ArchivedRecord) => other.boot === record.boot && isUsableMark(other);
    const isBetween = archived.slice(0, at).some(isHere) && archived.slice(at + 1).some(isHere);
    if (!isBetween || record.atMs === null || times.startMs(record.boot) === undefined) return [];
    const { atMs } = record;
    return spans.some(({ fromMs, untilMs }) => atMs >= fromMs - LATE_MS && atMs <= untilMs + LATE_MS)
      ? []
      : [`entry ${record.seq} is dated ${atMs}, when nobody was at work`];
  });
}

/** Whether a rest can be told from the pauses of an evening when whole rounds are taken away from it. */
export function isTellable(restMs: number): boolean {
  return restMs === 0 || !isWholeRounds(restMs);
}

/** While somebody was at work; nothing is logged outside of these. */
export interface WorkSpan {
  readonly fromMs: number;
  readonly untilMs: number;
}
