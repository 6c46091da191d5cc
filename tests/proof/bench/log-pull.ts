import type { Board } from '../../../host/board/link/board.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime } from '../../../host/board/sim/virtual-time.js';
import { decodeLine } from '../../../shared-protocol/index.js';

/** A whole log as it came over a wire. */
export interface Pull {
  /** From the request to the last record's arrival. */
  readonly wireMs: number;
  /** Bytes of the records themselves, each counted once. */
  readonly payloadBytes: number;
  readonly records: ReadonlyMap<number, string>;
}

/** Listens to what a board says, and knows how long each record's line was. */
export class RecordLengths {
  readonly #bySeq = new Map<number, number>();
  #rest = '';

  hear(bytes: Buffer): void {
    const lines = (this.#rest + bytes.toString('latin1')).split('\n');
    this.#rest = lines.pop()!;
    for (const line of lines) {
      const decoded = decodeLine(line);
      if (decoded.ok && 'seq' in decoded.message) this.#bySeq.set(decoded.message.seq, line.length + 1);
    }
  }

  sum(seqs: Iterable<number>): number {
    return [...seqs].reduce((sum, seq) => sum + (this.#bySeq.get(seq) ?? 0), 0);
  }
}

export async function pullLog(timeline: Timeline, laptop: Board, lengths: RecordLengths): Promise<Pull> {
  const startUs = timeline.nowUs;
  const records = new Map<number, string>();
  const pull = async () => {
    for await (const batch of laptop.collect(1))
      for (const record of batch.records) records.set(record.seq, JSON.stringify(record.fields));
  };
  await inVirtualTime(timeline, pull());
  const wireMs = (timeline.nowUs - startUs) / 1000;
  return { wireMs, payloadBytes: lengths.sum(records.keys()), records };
}

/** The last entry is apart: it tells of the start before the pull, and when in that start. */
export function isSameLog(one: Pull, other: Pull): boolean {
  const last = Math.max(...one.records.keys());
  return (
    one.records.size === other.records.size &&
    [...one.records].every(([seq, fields]) => seq === last || other.records.get(seq) === fields)
  );
}
