import { rmSync } from 'node:fs';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { BOARD } from './grown-archive.js';

/** As many as come from a board at once. */
const BATCH = 64;
const GAP_MS = 10_000;
const TOLD_MS = Date.UTC(2027, 2, 5, 20);

/** Entries of one run come into a new archive; the laptop told its time last, so that all get their dates with the last one. */
export async function keepLongRun(file: string, count: number): Promise<void> {
  rmSync(file, { force: true });
  await using archive = await openArchive(file);
  for (let first = 1; first <= count; first += BATCH) {
    const length = Math.min(BATCH, count + 1 - first);
    const records = Array.from({ length }, (_, at) => entry(first + at, count));
    await archive.keepRecords(BOARD, 1, records);
  }
}

function entry(seq: number, last: number): LogRecord {
  const uptimeMs = seq * GAP_MS;
  const [type, rest] = seq === last ? ['clock', [TOLD_MS]] : ['lens', []];
  return { boot: 1, seq, uptimeMs, type, fields: [1, seq, uptimeMs, ...rest] } as LogRecord;
}
