import { describe, expect, it } from 'vitest';
import { tapPedal } from '../../../../host/board/sim/controls.js';
import { Flash } from '../../../../host/board/sim/flash.js';
import type { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { leftOf } from '../../../../host/recipe/baths/index.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { LaptopAndBoard } from '../../board/link/laptop.js';

const toned = [
  ...usualBaths.slice(0, 3),
  { ...usualBaths[3], label: 'tone', resinCoatedSeconds: 0, fibreSeconds: 240, limitCm2: 20_640 },
  usualBaths[3],
];

/** One sheet by the pedal through developer and stop, each for its whole time. */
function processSheet(board: SimulatedBoard): void {
  tapPedal(board);
  for (const { resinCoatedSeconds } of usualBaths.slice(0, 2)) {
    tapPedal(board);
    board.advanceUs((resinCoatedSeconds + 1) * 1_000_000);
  }
}

describe('the baths of a board', () => {
  it('are the usual ones until others are set, and nothing has gone through', async () => {
    const pair = new LaptopAndBoard();
    const row = await pair.with((board) => board.allBaths());
    expect(row).toEqual(
      usualBaths.map((bath, at) => ({ ...bath, bath: at + 1, baths: 4, sheets: 0, areaCm2: 0 })),
    );
  });

  it('are set in order, and kept over power-off', async () => {
    const flash = new Flash();
    const pair = new LaptopAndBoard({ flash });
    await pair.with((board) => board.setBaths(toned));
    const again = new LaptopAndBoard({ flash });
    const row = await again.with((board) => board.allBaths());
    expect(row).toEqual(
      toned.map((bath, at) => ({ ...bath, bath: at + 1, baths: 5, sheets: 0, areaCm2: 0 })),
    );
  });

  it('end where they end', async () => {
    const pair = new LaptopAndBoard();
    await pair.with(async (board) => {
      expect(await board.getBath(4)).toMatchObject({ label: 'wash' });
      await expect(board.getBath(5)).rejects.toMatchObject({ code: 'not-found', exitCode: 2 });
      await expect(board.renewBath(5)).rejects.toMatchObject({ code: 'not-found' });
    });
  });

  it('stay what they were when a row does not come to its end', async () => {
    const pair = new LaptopAndBoard();
    await pair.with(async (board) => {
      const nameless = [toned[0]!, { ...toned[1]!, label: '' }, toned[2]!];
      await expect(board.setBaths(nameless)).rejects.toMatchObject({ name: 'RefusedError' });
      expect((await board.allBaths()).map(({ label }) => label)).toEqual(
        usualBaths.map(({ label }) => label),
      );
    });
  });

  it('count what goes through, keep it with the name, and lose it when mixed', async () => {
    const pair = new LaptopAndBoard();
    const short = usualBaths.slice(0, 2).map((bath) => ({ ...bath, limitCm2: 1032 }));
    await pair.with(async (board) => {
      await board.setBaths(short);
      await board.choose('process');
    });
    processSheet(pair.board);
    const renamed = [short[0]!, { ...short[1]!, label: 'rinse' }];
    await pair.with(async (board) => {
      const used = { sheets: 1, areaCm2: 516 };
      expect(await board.allBaths()).toMatchObject([used, used]);
      expect(leftOf((await board.allBaths())[0]!, 516)).toEqual({ cm2: 516, sheets: 1, overCm2: 0 });
      await board.setBaths(renamed);
      expect(await board.allBaths()).toMatchObject([used, { label: 'rinse', sheets: 0, areaCm2: 0 }]);
      await board.renewBath(1);
      expect(await board.getBath(1)).toMatchObject({ sheets: 0, areaCm2: 0 });
    });
  });

  it('say so in the log when one was mixed', async () => {
    const pair = new LaptopAndBoard();
    await pair.with(async (board) => {
      await board.renewBath(3);
      const records = [];
      for await (const batch of board.collect(1)) records.push(...batch.records);
      expect(records.filter(({ type }) => type === 'bath-used')).toMatchObject([
        // boot, seq, uptime, bath, label, sheets, planned, given, out, and the tally.
        { fields: [1, expect.any(Number), expect.any(Number), 3, 'fixer', 0, 0, 0, 0, 0, 0] },
      ]);
    });
  });
});
