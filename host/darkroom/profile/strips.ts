import { type KeptReading, type KeptStripReading, keptReadingFrom } from './kept-reading.js';

/** A row of the archive as far as a profile needs it. */
export interface PaperReadingRow {
  readonly body: unknown;
  readonly keptMs: number;
}

/** A strip in a paper's profile: its number there and what was read of it. */
export interface NumberedStrip {
  readonly number: number;
  readonly keptMs: number;
  readonly reading: KeptStripReading;
}

/** Strips are numbered as they came; what is said later of one holds. */
export function stripsIn(rows: readonly PaperReadingRow[]): {
  readonly strips: readonly NumberedStrip[];
  readonly leftOut: ReadonlySet<number>;
} {
  const strips: NumberedStrip[] = [];
  const leftOut = new Set<number>();
  for (const { body, keptMs } of rows) {
    const said: KeptReading | undefined = keptReadingFrom(body);
    if (said?.kind === 'strip') strips.push({ number: strips.length + 1, keptMs, reading: said });
    else if (said?.kind === 'left-out') leftOut.add(said.reading);
    else if (said !== undefined) leftOut.delete(said.reading);
  }
  return { strips, leftOut };
}
