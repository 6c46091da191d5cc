import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import type { RecordFilter } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { type LogEntry, logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';

/** A record as some board told it. */
export interface ToldRecord extends LogRecord {
  readonly board: string;
  readonly log: number;
}

/** What becomes of these records when they are collected into an archive, `batch` at a time, and read from it. */
export async function entriesThroughArchive(
  records: readonly ToldRecord[],
  { filter = {}, batch = records.length }: { filter?: RecordFilter; batch?: number } = {},
): Promise<LogEntry[]> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-records-'));
  const file = join(folder, 'archive.sqlite');
  try {
    await keep(file, records, batch);
    await using archive = await readArchive(file);
    return await listOf(logEntries(archive.records(filter)));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function keep(file: string, records: readonly ToldRecord[], batch: number): Promise<void> {
  await using archive = await openArchive(file);
  for (let at = 0; at < records.length; at += batch)
    for (const one of sameLogs(records.slice(at, at + batch)))
      await archive.keepRecords(one[0]!.board, one[0]!.log, one);
}

function sameLogs(records: readonly ToldRecord[]): ToldRecord[][] {
  const logs = new Map<string, ToldRecord[]>();
  for (const record of records) {
    const key = `${record.board} ${record.log}`;
    logs.set(key, [...(logs.get(key) ?? []), record]);
  }
  return [...logs.values()];
}
