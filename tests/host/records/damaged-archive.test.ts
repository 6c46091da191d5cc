import {
  copyFileSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { ArchiveError } from '../../../host/records/archive-error.js';
import { logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';
import { Random } from '../../setup/random.js';
import { lens } from '../board/link/scripted-peer.js';
import { Talk } from '../board/link/talk.js';

const FILES = 40;
const ARCHIVED = 400;
const ON_BOARD = 40;
const COLUMN = 'schema_hash TEXT';
/** A sequence number of two bytes; its uptime is 0x030d40. */
const SWAPPED = 200;

let folder: string;
let good: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-damaged-'));
  good = join(folder, 'good.sqlite');
  await using archive = await openArchive(good);
  const records = Array.from({ length: ARCHIVED }, (_, at): LogRecord => {
    const seq = at + 1;
    const fields = ['burn', 'jetty', 2, 0, 'sky é', '00', 8000, 8056, 8000, 'complete', 1, 3];
    return { boot: 1, seq, uptimeMs: seq * 1000, type: 'exposure', fields: [1, seq, seq * 1000, ...fields] };
  });
  await archive.keepRecords(BOARD, 0, records);
});
afterAll(() => rmSync(folder, { recursive: true }));

const BOARD = '00c0ffee00c0ffee';

/** The good file with bits flipped all over it, or cut short; everything follows from the seed. */
function damagedFile(seed: number): string {
  const file = join(folder, `${seed}.sqlite`);
  const random = new Random(seed);
  if (random.chance(0.2)) {
    copyFileSync(good, file);
    truncateSync(file, random.below(statSync(good).size));
    return file;
  }
  const bytes = readFileSync(good);
  for (let flips = random.between(1, 40); flips > 0; flips--)
    bytes[random.below(bytes.length)]! ^= 1 << random.below(8);
  writeFileSync(file, bytes);
  return file;
}

/** What the board told after the archive's last record, and whether it was told to forget it. */
async function collectInto(file: string): Promise<{ error: unknown; forgot: boolean }> {
  const talk = new Talk();
  talk.peer.log = Array.from({ length: ON_BOARD }, (_, at) => lens(ARCHIVED + at + 1));
  let error: unknown;
  try {
    await using archive = await openArchive(file, talk.clock);
    const board = await talk.open({ acceptOtherVersion: true });
    await talk.over(collectIntoArchive(archive, board)).catch((failed: unknown) => {
      error = failed;
    });
    await board.close();
  } catch (failed) {
    error = failed;
  }
  return { error, forgot: talk.peer.types().includes('forget') };
}

async function readBack(file: string): Promise<number[]> {
  await using archive = await readArchive(file);
  const seqs: number[] = [];
  for await (const record of archive.records()) if (record.type === 'lens') seqs.push(record.seq);
  return seqs;
}

// 10 of 40 such files let the board forget what nobody could read any more, and the database library ended the program
// for some, without a word.
describe('an archive that is damaged', () => {
  it.each(Array.from({ length: FILES }, (_, seed) => seed))(
    'in the way of seed %i either keeps what is collected so that it can be read, or the board keeps it',
    async (seed) => {
      const file = damagedFile(seed);
      const { error, forgot } = await collectInto(file);
      if (forgot) {
        expect(error).toBeUndefined();
        const seqs = await readBack(file);
        for (let at = 1; at <= ON_BOARD; at++) expect(seqs).toContain(ARCHIVED + at);
      } else expect(error).toBeInstanceOf(ArchiveError);
      await listOf(logEntries((await readArchive(file).catch(() => undefined))?.records() ?? [])).catch(
        (failed: unknown) => expect(failed).toBeInstanceOf(ArchiveError),
      );
    },
  );

  // "table record has no column named schema_hash" was all that was said of a flipped bit, which a world found.
  it('in the name of a column is told as damaged, and the board forgets nothing', async () => {
    const file = join(folder, 'column.sqlite');
    copyFileSync(good, file);
    const bytes = readFileSync(file);
    // Where the schema was moved to another page, its former place still has a copy.
    for (let at = bytes.indexOf(COLUMN); at >= 0; at = bytes.indexOf(COLUMN, at + 1))
      bytes[at + 'schema_has'.length]! ^= 1;
    writeFileSync(file, bytes);
    const { error, forgot } = await collectInto(file);
    expect(String(error)).toContain('the file is damaged: restore it from a backup');
    expect(forgot).toBe(false);
  });

  // The quick check finds nothing in such a file, and what is written behind the key is never found again.
  it('in the order of its keys is told as damaged when it is opened, and the board forgets nothing', async () => {
    const file = join(folder, 'order.sqlite');
    const bytes = readFileSync(good);
    const key = (seq: number) => Buffer.concat([Buffer.from(BOARD), Buffer.from([seq >> 8, seq & 0xff])]);
    const ofTable = Buffer.concat([key(SWAPPED), Buffer.from([0x03, 0x0d, 0x40])]);
    // Pages that were split have old copies behind what is in use; those are no harm.
    let changed = 0;
    for (let at = bytes.indexOf(key(SWAPPED)); at >= 0; at = bytes.indexOf(key(SWAPPED), at + 1)) {
      if (bytes.indexOf(ofTable, at) === at) continue;
      key(ARCHIVED + SWAPPED).copy(bytes, at);
      changed++;
    }
    expect(changed).toBeGreaterThan(0);
    writeFileSync(file, bytes);
    const { error, forgot } = await collectInto(file);
    expect(String(error)).toMatch(/the file is damaged \(.*\): restore it from a backup/);
    expect(forgot).toBe(false);
  });

  it('in one record is read all the same, and that record is shown as not readable', async () => {
    const file = join(folder, 'one.sqlite');
    copyFileSync(good, file);
    const database = new Database(file);
    database.exec("UPDATE record SET fields = CAST(x'5b22ff225d' AS TEXT) WHERE seq = 7");
    database.close();
    await using archive = await readArchive(file);
    const entries = await listOf(logEntries(archive.records()));
    expect(entries.filter(({ kind }) => kind === 'unreadable').map(({ seq }) => seq)).toEqual([7]);
    expect(entries).toHaveLength(ARCHIVED);
  });
});
