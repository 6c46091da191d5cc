import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import type { LogRecord } from '../../host/board/link/log-record.js';
import type { ArchivedRecord } from '../../host/records/archive/archive.js';
import { readArchive } from '../../host/records/archive/read-archive.js';
import { type Laptop, PORT } from './laptop.js';

const ARCHIVE = 'prints.sqlite';
const RECIPE = '/usr/lib/node_modules/treadle/host/evening/boathouse.json';
/** So much of the log has come when the cable is pulled: a good part, and far from all. */
const CUT_AFTER_BYTES = 15_000;
const PULLED_MS = 1500;
/** udev has named the port by then. */
const THERE_TRIES = 60;

/** Finds the board, sends it a recipe, and collects its log with the cable pulled in the middle. */
export async function tellStory(
  laptop: Laptop,
  evening: readonly LogRecord[],
  folder: string,
): Promise<void> {
  const { board } = laptop.board;
  const id = Buffer.from(board.flash.id).toString('hex');
  const lampBefore = board.lampEdges.length;
  laptop.tell('the cable is plugged in');
  laptop.cable.plug();
  await waitForPort(laptop);
  for (const line of laptop.kernelWords) laptop.tell(`kernel: ${line}`);

  assert.match(await laptop.run('treadle ports'), new RegExp(`^${PORT} +board ${id}, treadle `, 'm'));
  assert.match(await laptop.run('treadle info'), new RegExp(`^board +${id}\nport +${PORT}$`, 'm'));
  await laptop.run(`treadle send ${RECIPE} --archive ${ARCHIVE}`);
  assert.match(await laptop.run('treadle recipes'), /boathouse/);

  pullWithin(laptop, CUT_AFTER_BYTES);
  const collected = await laptop.run(`treadle collect --archive ${ARCHIVE}`);
  assert.match(collected, /Lost the board .*\n(.*\n)*It is back at .*; beginning again\./);
  assert.match(await laptop.run(`treadle collect --archive ${ARCHIVE}`), /^\d new records? of board/);
  await holdAgainst(evening, await fetchArchive(laptop, folder));
  laptop.tell(
    `the archive has all ${evening.length} records of the evening, each once and as the board had it`,
  );

  assert.equal(board.lampEdges.length, lampBefore, 'the lamp knows nothing of a cable');
}

async function waitForPort(laptop: Laptop): Promise<void> {
  await laptop.quietly(
    `n=0; until [ -e /dev/serial/by-id/usb-Treadle_* ]; do n=$((n+1)); [ $n -lt ${THERE_TRIES} ] || exit 1; sleep 0.5; done`,
  );
}

/** Pulls the cable once so many more bytes have come from the board, and puts it in again. */
function pullWithin(laptop: Laptop, bytes: number): void {
  const { cable } = laptop;
  const atBytes = cable.receivedBytes + bytes;
  cable.onReceived = () => {
    if (cable.receivedBytes < atBytes) return;
    cable.onReceived = () => {};
    laptop.tell('the cable is pulled');
    cable.unplug();
    setTimeout(() => {
      laptop.tell('the cable is plugged in again');
      cable.plug();
    }, PULLED_MS);
  };
}

/** The archive's file as it lies in the guest. */
async function fetchArchive(laptop: Laptop, folder: string): Promise<ArchivedRecord[]> {
  const file = join(folder, ARCHIVE);
  const packed = await laptop.quietly(`gzip -c ${ARCHIVE} | base64 -w 0`);
  writeFileSync(file, gunzipSync(Buffer.from(packed, 'base64')));
  await using archive = await readArchive(file);
  const records: ArchivedRecord[] = [];
  for await (const record of archive.records({})) records.push(record);
  return records;
}

/** Every record that was on the board before is there as it was; after them come those of the conversation, without a gap. */
function holdAgainst(evening: readonly LogRecord[], archived: readonly ArchivedRecord[]): void {
  const told = ({ boot, seq, type, fields }: LogRecord) => ({ boot, seq, type, fields });
  assert.deepEqual(archived.slice(0, evening.length).map(told), evening.map(told));
  assert.deepEqual(
    archived.map(({ seq }) => seq),
    archived.map((_, index) => evening[0]!.seq + index),
  );
}
