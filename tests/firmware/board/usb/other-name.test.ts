import { expect, test } from 'vitest';
import { PortNotFoundError } from '../../../../host/board/errors.js';
import type { Board } from '../../../../host/board/link/board.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import type { Ports } from '../../../../host/board/link/serial-port.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { EVENING_MS } from '../../../host/board/link/laptop.js';
import { EmulatedBoard } from '../rig/emulated-board.js';
import { buildImage } from '../rig/image.js';
import { boardTestsRun } from '../rig/requirements.js';

const FOUND_US = 400_000;
const FIRST = '/dev/ttyACM0';
const SECOND = '/dev/ttyACM1';

// Linux gives a board that comes back a name of its own while a program still holds the one before.
test.runIf(boardTestsRun)(
  'a board that comes back by another name is the same board, and its log is whole',
  async () => {
    const timeline = new Timeline();
    const emulated = new EmulatedBoard({ image: buildImage(), timeline });
    const { usbCable } = emulated;
    let name = FIRST;
    const ports: Ports = {
      list: async () =>
        usbCable.found === undefined
          ? []
          : [
              {
                path: name,
                manufacturer: 'Treadle',
                serialNumber: usbCable.found.serial,
                vendorId: '2e8a',
                productId: '000a',
              },
            ],
      open: async (path) => {
        if (path !== name || usbCable.found === undefined) throw new PortNotFoundError(path);
        return usbCable.open();
      },
    };
    usbCable.plug({ opensLater: true });
    timeline.runUntil(1_000_000 + FOUND_US);
    const options = { clock: timelineClock(timeline, EVENING_MS), draw: () => 0, ports };
    const board = await inVirtualTime(timeline, openBoard(FIRST, options));
    const asked: string[] = [];
    let pulls = 0;
    const work = async (each: Board) => {
      asked.push(name);
      if (pulls++ === 0) {
        usbCable.unplug();
        timeline.at(timeline.nowUs + FOUND_US, () => {
          name = SECOND;
          usbCable.plug({ opensLater: true });
        });
      }
      const seqs: number[] = [];
      for await (const batch of each.collect(1)) seqs.push(...batch.records.map(({ seq }) => seq));
      return seqs;
    };
    const seqs = await inVirtualTime(timeline, stayConnected(board, FIRST, work, options));
    expect(asked).toEqual([FIRST, SECOND]);
    expect(seqs.length).toBeGreaterThan(0);
    expect(seqs).toEqual(seqs.map((_, at) => at + 1));
    expect(emulated.mistakes).toEqual([]);
  },
);
