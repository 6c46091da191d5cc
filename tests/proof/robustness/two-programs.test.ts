import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BoardAtAPort } from '../../host/cli/board-at-a-port.js';
import { type Ran, treadleUntil } from '../../host/cli/treadle.js';

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
    expect(second!.err).toMatch(/another program has .* open/);
    expect(second!.err).not.toMatch(/^\s+at /m);
    expect(first).toMatchObject({ code: 0, err: '' });
    expect((await desk.treadle('info')).code).toBe(0);
  });
});
