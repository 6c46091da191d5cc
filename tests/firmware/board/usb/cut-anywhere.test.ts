import type { Duplex } from 'node:stream';
import { describe, expect, test } from 'vitest';
import type { Board } from '../../../../host/board/link/board.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import { holdPedal } from '../../../../host/board/sim/controls.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { EVENING_MS, recipe } from '../../../host/board/link/laptop.js';
import { Random } from '../../../setup/random.js';
import { EmulatedBoard } from '../rig/emulated-board.js';
import { buildImage } from '../rig/image.js';
import { boardTestsRun } from '../rig/requirements.js';

const BACK_US = 20_000;
/** Of each way; CI cuts more often. */
const CUTS = Number(process.env.TREADLE_CUTS ?? 1);
const SEED = 20270305;

type Cut = (board: EmulatedBoard) => void;

const cuts: Record<string, Cut> = {
  unplugged: (board) => board.usbCable.unplug(),
  'reset on the bus': (board) => {
    board.chip.usb.resetBus();
    board.usbCable.unplug();
  },
  'hung (erratum E15)': (board) => board.chip.usb.hang(),
};

/** A recipe up and down again, and the log, over USB; `cut` happens before one of the transactions. */
async function converse(cutAt = Number.POSITIVE_INFINITY, cut: Cut = () => {}) {
  const timeline = new Timeline();
  const emulated = new EmulatedBoard({ image: buildImage(), timeline });
  const over = <Result>(work: Promise<Result>) => inVirtualTime(timeline, work);
  timeline.runUntil(1_000_000);
  for (let lights = 0; lights < 3; lights++) {
    holdPedal(emulated, 900);
    timeline.runUntil(timeline.nowUs + 2_000_000);
  }
  const options = { clock: timelineClock(timeline, EVENING_MS), draw: () => 0 };
  const plug = (): Duplex => emulated.usbCable.plug();
  const board = await over(openBoard(plug(), options));
  const { host } = emulated.usbCable;
  const from = host.transactions;
  host.onTransaction = (count) => {
    if (count - from !== cutAt) return;
    timeline.at(timeline.nowUs, () => cut(emulated));
  };
  const records = new Map<number, string>();
  const work = async (each: Board) => {
    await each.sendRecipe(recipe('at the jetty'));
    for await (const batch of each.collect(1))
      for (const record of batch.records) {
        const text = JSON.stringify(record);
        expect(records.get(record.seq) ?? text).toBe(text);
        records.set(record.seq, text);
      }
    return { names: (await each.listRecipes()).map(({ name }) => name), kept: await each.getRecipe('jetty') };
  };
  const back = async () => {
    await new Promise<void>((resolve) => timeline.at(timeline.nowUs + BACK_US, resolve));
    return emulated.usbCable.port ?? plug();
  };
  const ended = await over(stayConnected(board, back, work, options));
  expect(emulated.mistakes).toEqual([]);
  expect(emulated.watchdogResets).toEqual([]);
  return { ...ended, records: [...records.keys()], transactions: host.transactions - from };
}

describe.runIf(boardTestsRun)('a conversation over USB', () => {
  test('that is cut at any transaction, in any way, is gone on with; nothing is lost, nothing doubled', async () => {
    console.log(`seed ${SEED}`);
    const whole = await converse();
    expect(whole.kept).toEqual(recipe('at the jetty'));
    expect(whole.names).toEqual(['jetty']);
    expect(whole.records.length).toBeGreaterThan(3);
    const random = new Random(SEED);
    for (const [name, cut] of Object.entries(cuts))
      for (let each = 0; each < CUTS; each++) {
        const at = 1 + random.below(whole.transactions);
        const { kept, names, records } = await converse(at, cut);
        expect({ kept, names }, `${name} at ${at}`).toEqual({ kept: whole.kept, names: whole.names });
        // Each conversation tells the time anew, which the log keeps.
        expect(records.slice(0, whole.records.length), `${name} at ${at}`).toEqual(whole.records);
      }
  }, 240_000);
});
