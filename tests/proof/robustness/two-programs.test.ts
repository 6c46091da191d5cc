import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBoard } from '../../../host/board/link/open-board.js';
import { BoardAtAPort } from '../../host/cli/board-at-a-port.js';
import { type Ran, treadleMeanwhile, treadleUntil } from '../../host/cli/treadle.js';

// Windows has no pseudo-terminals.
describe.skipIf(process.platform === 'win32')('two programs at one port', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());

  it('are not mixed up: the second is told and leaves, the first hears nothing of it', async () => {
    let second: Ran | undefined;
    const stopHolding = desk.holdThePedalOverAndOver();
    const first = await treadleUntil(['watch', '--port', desk.path], /lamp on/, async () => {
      second = await desk.treadle('info');
    });
    stopHolding();
    expect(second).toMatchObject({ code: 3, out: '' });
    expect(second!.err).toMatch(
      /another program has .* open: 'treadle watch' \(process \d+\) keeps it until it is ended/,
    );
    expect(second!.err).not.toMatch(/^\s+at /m);
    expect(first).toMatchObject({ code: 0, err: '' });
    expect((await desk.treadle('info')).code).toBe(0);
  });

  it('come one after the other where the first is soon done: the second waits and says for whom', async () => {
    const first = await openBoard(desk.path, { holder: { program: 'treadle collect' } });
    const second = await treadleMeanwhile(['info', '--port', desk.path], /waiting/, () => first.close());
    expect(second.err).toBe(
      `'treadle collect' (process ${process.pid}) has ${desk.path} open: waiting for it, 10 s at the most...\n`,
    );
    expect(second).toMatchObject({ code: 0, out: expect.stringContaining(desk.board.id) });
  });
});
