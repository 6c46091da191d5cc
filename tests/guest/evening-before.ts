import type { LogRecord } from '../../host/board/link/log-record.js';
import { openBoard } from '../../host/board/link/open-board.js';
import { holdPedal } from '../../host/board/sim/controls.js';
import { Flash } from '../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../host/board/sim/simulated-board.js';
import { Timeline } from '../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../host/board/sim/virtual-time.js';
import { limits } from '../../shared-protocol/limits.js';
import { EmulatedBoard } from '../firmware/board/rig/emulated-board.js';
import { buildImage } from '../firmware/board/rig/image.js';
import { flashBytes, NorFlash } from '../firmware/board/rig/nor-flash.js';

const EVENING_MS = Date.UTC(2027, 2, 5, 20, 0, 0);
const HOLDS = 600;
const HELD_MS = 900;
const BETWEEN_US = 3_000_000;
const POWER_UP_US = 1_000_000;

/** A board at the end of an evening, and what its log has. */
export interface UsedBoard {
  readonly board: EmulatedBoard;
  readonly records: readonly LogRecord[];
}

/** Holds of the pedal, light for focusing and the lens by turns: on the simulated board, which takes a second for all of it. */
export async function boardAfterAnEvening(): Promise<UsedBoard> {
  const flash = new NorFlash();
  const timeline = new Timeline();
  const storage = new Flash();
  const boardId = Buffer.from(flash.id).toString('hex');
  const simulated = new SimulatedBoard({ boardId, flash: storage, timeline });
  const options = { clock: timelineClock(timeline, EVENING_MS) };
  const over = <Result>(work: Promise<Result>) => inVirtualTime(timeline, work);
  const link = await over(openBoard(simulated.plug(), options));
  for (let held = 0; held < HOLDS; held++) {
    holdPedal(simulated, HELD_MS);
    simulated.advanceUs(BETWEEN_US);
  }
  const records: LogRecord[] = [];
  const collecting = (async () => {
    for await (const batch of link.collect(1)) records.push(...batch.records);
  })();
  await over(collecting);
  await link.close();
  simulated.close();
  flash.bytes.set(storage.read(0, limits.storageBytes), flashBytes - limits.storageBytes);
  const board = new EmulatedBoard({ image: buildImage(), flash });
  board.advanceUs(POWER_UP_US);
  return { board, records };
}
