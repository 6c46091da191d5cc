import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import LibsqlDatabase from 'libsql';
import { recordOf } from '../../../host/board/link/log-record.js';
import { openBoard } from '../../../host/board/link/open-board.js';
import { Flash } from '../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { filledFlash } from './log-over-noise.js';
import { bestMs, type Section, thousands, times } from './page.js';
import { sampleRecords } from './sample-log.js';

const ENTRIES = 2048;
const BATCH = 64;
const ROUNDS = 3;
const WHOLE_LOG = 4000;

/** Entries committed to the disk in batches, beside bare inserts of the same text; and a whole log, end to end. */
export async function archiveFigures(): Promise<Section> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-bench-'));
  try {
    let file = 0;
    const next = () => join(folder, `${file++}.sqlite`);
    const [archiveMs, bareMs] = (await bestMs(
      ROUNDS,
      () => keepAll(next()),
      () => insertAll(next()),
    )) as [number, number];
    const image = await filledFlash(WHOLE_LOG);
    const [wholeMs] = (await bestMs(ROUNDS, () => collectWhole(image, next()))) as [number];
    const row = (what: string, entries: number, tookMs: number, ratio: string) => [
      what,
      thousands(entries / (tookMs / 1000)),
      (tookMs / 1000).toFixed(2),
      ratio,
    ];
    return {
      title: 'Archive',
      about: `Batches of ${BATCH} entries, each on the disk before the next; best of ${ROUNDS}.`,
      columns: ['what', 'entries a second', 'seconds', 'of bare inserts'],
      rows: [
        row(`archive, ${ENTRIES} entries`, ENTRIES, archiveMs, times(bareMs / archiveMs)),
        row(`bare inserts of the same text, ${ENTRIES} entries`, ENTRIES, bareMs, times(1)),
        row(
          `pull of ${WHOLE_LOG} entries end to end, over a line that takes no time`,
          WHOLE_LOG,
          wholeMs,
          '-',
        ),
      ],
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function keepAll(file: string): Promise<void> {
  const archive = await openArchive(file);
  const records = sampleRecords(ENTRIES).map((message) => recordOf(message)!);
  for (let at = 0; at < ENTRIES; at += BATCH)
    await archive.keepRecords('0123456789abcdef', 0, records.slice(at, at + BATCH));
  await archive.close();
}

function insertAll(file: string): void {
  const database = new LibsqlDatabase(file);
  database.pragma('journal_mode = DELETE');
  database.pragma('synchronous = EXTRA');
  database.exec('CREATE TABLE entry (seq INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT');
  const insert = database.prepare('INSERT INTO entry VALUES (?, ?)');
  const texts = sampleRecords(ENTRIES).map((message) => JSON.stringify(message));
  for (let at = 0; at < ENTRIES; at += BATCH)
    database.transaction(() => {
      for (let index = at; index < at + BATCH; index++) insert.run(index, texts[index]!);
    })();
  database.close();
}

async function collectWhole(image: Uint8Array, file: string): Promise<void> {
  const flash = new Flash();
  flash.load(image);
  const board = new SimulatedBoard({ flash, speed: 1 });
  const archive = await openArchive(file);
  const laptop = await openBoard(board.plug());
  const { added } = await collectIntoArchive(archive, laptop);
  await laptop.close();
  await archive.close();
  board.close();
  if (added < WHOLE_LOG) throw new Error(`${added} of ${WHOLE_LOG} entries were pulled`);
}
