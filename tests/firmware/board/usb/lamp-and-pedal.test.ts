import { describe, expect, test } from 'vitest';
import { boardTestsRun } from '../rig/requirements.js';
import { exposeUnderUsbFlood, exposeUnderUsbResets } from '../rig/usb/flood.js';

const LATENCY_US = 1000;

describe.runIf(boardTestsRun)('lamp and pedal while USB is full both ways', () => {
  test.for([10_000, 250_000])(
    'a light of %i us is right to 2 us, the pedal heard in a millisecond',
    (onUs) => {
      const { board, lightUs, delayUs } = exposeUnderUsbFlood(onUs);
      expect(delayUs).toBeLessThanOrEqual(LATENCY_US);
      expect(Math.abs(lightUs - onUs)).toBeLessThanOrEqual(2);
      expect(board.mistakes).toEqual([]);
    },
  );

  test('a light is right to 2 us, and the pedal is heard in a millisecond, while the bus is reset over and over', () => {
    const onUs = 100_000;
    const { board, resets, lightUs, delayUs } = exposeUnderUsbResets(onUs);
    expect(resets).toBeGreaterThan(200);
    expect(delayUs).toBeLessThanOrEqual(LATENCY_US);
    expect(Math.abs(lightUs - onUs)).toBeLessThanOrEqual(2);
    expect(board.mistakes).toEqual([]);
  });
});
