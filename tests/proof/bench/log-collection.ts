import { openBoard } from '../../../host/board/link/open-board.js';
import { Flash } from '../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import { pause } from '../../../host/clock.js';
import { decodeLine } from '../../../shared-protocol/index.js';
import { Random } from '../../setup/random.js';
import { FaultyWire, silence } from '../world/faulty-wire.js';
import { percent, type Section, thousands } from './page.js';

const EPOCH_MS = Date.UTC(2027, 2, 5, 20, 0, 0);
const ENTRIES = 1000;
/** No quicker than the flash takes them, sectors that are erased meanwhile included. */
const ENTRY_MS = 10;
const BITS_A_BYTE = 8;
/** Start bit, eight data bits, stop bit. */
const LINE_BITS_A_BYTE = 10;

/** A board with so many entries in its log: clock entries, the quickest way to fill one by the line. */
export async function filledFlash(entries: number): Promise<Uint8Array> {
  const timeline = new Timeline();
  const board = new SimulatedBoard({ flash: new Flash(), timeline });
  const clock = timelineClock(timeline, EPOCH_MS);
  const laptop = await inVirtualTime(timeline, openBoard(board.plug(), { clock }));
  const fill = async () => {
    for (let entry = 0; entry < entries; entry++) {
      await laptop.setClock();
      await pause(clock, ENTRY_MS);
    }
  };
  await inVirtualTime(timeline, fill(), 36_000_000);
  await laptop.close();
  board.advanceUs(5_000_000);
  const image = board.flash.image();
  board.close();
  return image;
}

interface Pull {
  /** From the request to the last record's arrival. */
  readonly wireMs: number;
  /** Bytes of the records themselves, each counted once. */
  readonly payloadBytes: number;
  readonly records: ReadonlyMap<number, string>;
}

/** Pulls the whole log over a line of that rate, on a virtual clock: what the wire would really take. */
async function collectOver(image: Uint8Array, baud: number, bitErrorRate: number): Promise<Pull> {
  const timeline = new Timeline();
  const flash = new Flash();
  flash.load(image);
  const board = new SimulatedBoard({ flash, timeline, baud });
  const wire = new FaultyWire(timeline, new Random(7), 0);
  const lineBytes = new Map<number, number>();
  const stream = wire.connect(board.plug(), lengthsBySeq(lineBytes));
  const laptop = await inVirtualTime(
    timeline,
    openBoard(stream, { clock: timelineClock(timeline, EPOCH_MS), setClock: false }),
  );
  wire.noise = { ...silence, flipped: bitErrorRate * BITS_A_BYTE };
  const startUs = timeline.nowUs;
  const records = new Map<number, string>();
  const pull = async () => {
    for await (const batch of laptop.collect(1))
      for (const record of batch.records) records.set(record.seq, JSON.stringify(record.fields));
  };
  await inVirtualTime(timeline, pull());
  const wireMs = (timeline.nowUs - startUs) / 1000;
  await laptop.close();
  board.close();
  const payloadBytes = [...records.keys()].reduce((sum, seq) => sum + (lineBytes.get(seq) ?? 0), 0);
  return { wireMs, payloadBytes, records };
}

/** Notes how long each record's line is as the board sends it. */
function lengthsBySeq(lengths: Map<number, number>): (bytes: Buffer) => void {
  let rest = '';
  return (bytes) => {
    const lines = (rest + bytes.toString('latin1')).split('\n');
    rest = lines.pop()!;
    for (const line of lines) {
      const decoded = decodeLine(line);
      if (decoded.ok && 'seq' in decoded.message) lengths.set(decoded.message.seq, line.length + 1);
    }
  };
}

/** The log pulled over a paced, noisy wire: the share of the wire's bytes that were records, each counted once. */
export async function logCollection(): Promise<Section> {
  const image = await filledFlash(ENTRIES);
  const clean = await collectOver(image, 115_200, 0);
  const rows: (string | number)[][] = [];
  for (const baud of [115_200, 921_600])
    for (const bitErrorRate of [0, 1e-5, 1e-4]) {
      const { wireMs, payloadBytes, records } = await collectOver(image, baud, bitErrorRate);
      const limit = ((baud / LINE_BITS_A_BYTE) * wireMs) / 1000;
      const exact =
        records.size === clean.records.size &&
        [...records].every(([seq, fields]) => clean.records.get(seq) === fields);
      rows.push([
        baud,
        bitErrorRate,
        thousands(payloadBytes / (wireMs / 1000)),
        percent(payloadBytes / limit),
        exact ? `all ${records.size}` : `NOT EXACT: ${records.size} of ${clean.records.size}`,
      ]);
    }
  return {
    title: 'Log pull',
    about:
      `${clean.records.size} entries over a paced line on a virtual clock, the real core and the real library. The limit is the rate / ${LINE_BITS_A_BYTE}; ` +
      'what counts is the bytes of records, each once. Goals: 95 % clean, 80 % at 1e-5, complete and exact at 1e-4.',
    columns: [
      'baud',
      'bit error rate',
      'record bytes a second',
      "of the wire's limit",
      'entries complete and exact',
    ],
    rows,
  };
}
