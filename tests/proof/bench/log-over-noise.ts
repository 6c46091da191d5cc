import { openBoard } from '../../../host/board/link/open-board.js';
import { Flash } from '../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import { pause } from '../../../host/clock.js';
import { Random } from '../../setup/random.js';
import { FaultyWire, silence } from '../world/faulty-wire.js';
import { type Pull, pullLog, RecordLengths } from './log-pull.js';

const EPOCH_MS = Date.UTC(2027, 2, 5, 20, 0, 0);
/** No quicker than the flash takes them, sectors that are erased meanwhile included. */
const ENTRY_MS = 10;
const BITS_A_BYTE = 8;
/** Start bit, eight data bits, stop bit. */
export const LINE_BITS_A_BYTE = 10;

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

/** Pulls the whole log over a line of that rate, on a virtual clock: what the wire would really take. */
export async function collectOver(
  image: Uint8Array,
  baud: number,
  bitErrorRate: number,
  seed = 1,
): Promise<Pull> {
  const timeline = new Timeline();
  const flash = new Flash();
  flash.load(image);
  const board = new SimulatedBoard({ flash, timeline, baud });
  const wire = new FaultyWire(timeline, new Random(seed), 0);
  const lengths = new RecordLengths();
  const stream = wire.connect(board.plug(), (bytes) => lengths.hear(bytes));
  const laptop = await inVirtualTime(
    timeline,
    openBoard(stream, { clock: timelineClock(timeline, EPOCH_MS), setClock: false }),
  );
  wire.noise = { ...silence, flipped: bitErrorRate * BITS_A_BYTE };
  const pull = await pullLog(timeline, laptop, lengths);
  await laptop.close();
  board.close();
  return pull;
}

/** The share of what the wire could carry that was records, each once, over several pulls. */
export function shareOf(bytesASecond: number, pulls: readonly Pull[]): number {
  const payload = pulls.reduce((sum, { payloadBytes }) => sum + payloadBytes, 0);
  const wireMs = pulls.reduce((sum, pull) => sum + pull.wireMs, 0);
  return payload / ((bytesASecond * wireMs) / 1000);
}
