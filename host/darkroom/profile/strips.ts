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

/** Strips are numbered as they came, damaged ones with them; what is said later of one holds. */
export function stripsIn(rows: readonly PaperReadingRow[]): {
  readonly strips: readonly NumberedStrip[];
  readonly leftOut: ReadonlySet<number>;
} {
  const strips: NumberedStrip[] = [];
  const leftOut = new Set<number>();
  let damaged = 0;
  for (const { body, keptMs } of rows) {
    const said: KeptReading | undefined = keptReadingFrom(body);
    if (body === null) damaged++;
    if (said?.kind === 'strip') strips.push({ number: strips.length + damaged + 1, keptMs, reading: said });
    else if (said?.kind === 'left-out') leftOut.add(said.reading);
    else if (said !== undefined) leftOut.delete(said.reading);
  }
  return { strips, leftOut };
}

/** Whether nothing of it counts, such as a strip read under a name that was misspelled. A damaged row may have been one that does. */
export function isAllLeftOut(rows: readonly PaperReadingRow[]): boolean {
  const { strips, leftOut } = stripsIn(rows);
  return rows.every(({ body }) => body !== null) && strips.every(({ number }) => leftOut.has(number));
}

/**
 * The strip of the profile that this one is: the same sheet of the log, or tone for tone the same scan. Counted twice, it
 * would make the figures surer than they are.
 */
export function sameStripIn(
  rows: readonly PaperReadingRow[],
  { sheet, patches }: KeptStripReading,
): NumberedStrip | undefined {
  const { strips, leftOut } = stripsIn(rows);
  const tonesOf = (each: KeptStripReading['patches']) => JSON.stringify(each.map(({ density }) => density));
  const tones = tonesOf(patches);
  return strips.find(
    ({ number, reading }) =>
      !leftOut.has(number) &&
      ((sheet !== undefined && reading.sheet === sheet) || tonesOf(reading.patches) === tones),
  );
}
