import { describe, expect, test } from 'vitest';
import { lightsUs, ProbeBoard } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

const BLANK = ' '.repeat(20);
const digits = (digit: number) => String(digit).repeat(20);
/** A row takes 9 ms on the bus, and one that went away is looked for once a second. */
const REDRAW_US = 60_000;
const RETRY_US = 1_100_000;

describe.runIf(boardTestsRun)('the display on the chip', () => {
  test('shows each row where it belongs', () => {
    const board = new ProbeBoard();
    board.tell('1W12W23W34W', REDRAW_US);
    expect(board.panel).toEqual([digits(1), digits(2), digits(3), digits(4)]);
    expect(board.display.mistakes).toEqual([]);
  });

  test('absent at power-up, it is found when it is plugged in', () => {
    const board = new ProbeBoard();
    board.plugDisplay(false);
    board.reset('power');
    board.advanceUs(100_000);
    board.tell('5W', REDRAW_US);
    board.plugDisplay(true);
    board.advanceUs(RETRY_US + REDRAW_US + 50_000);
    expect(board.panel).toEqual([digits(5), BLANK, BLANK, BLANK]);
  });

  test('pulled out in the middle of a message and put back, it shows everything again', () => {
    const board = new ProbeBoard();
    board.tell('1W12W', REDRAW_US);
    board.port.write('23W34W');
    board.advanceUs(7000);
    board.plugDisplay(false);
    board.advanceUs(300_000);
    board.plugDisplay(true);
    board.advanceUs(RETRY_US + 2 * REDRAW_US);
    expect(board.panel).toEqual([digits(1), digits(2), digits(3), digits(4)]);
    expect(board.display.mistakes).toEqual([]);
  });

  test.for(['pulled out', 'holding its data line'])(
    '%s during an exposure, it changes nothing of it',
    (how) => {
      const board = new ProbeBoard();
      board.tell('200000x1q1z');
      board.pedal(true);
      board.advanceUs(20_000);
      if (how === 'pulled out') board.plugDisplay(false);
      else board.holdDisplayBus(true);
      board.advanceUs(400_000);
      expect(Math.abs(lightsUs(board.lampEdges)[0]! - 200_000)).toBeLessThanOrEqual(2);
      expect(board.watchdogResets).toEqual([]);
    },
  );

  /** It was missed only when there was something to show, and that then went to a controller that was not set up. */
  test('pulled out at rest and put back, it shows everything again by itself', () => {
    const board = new ProbeBoard();
    board.tell('1W12W', REDRAW_US);
    board.plugDisplay(false);
    board.advanceUs(RETRY_US);
    board.plugDisplay(true);
    board.advanceUs(RETRY_US + 2 * REDRAW_US);
    expect(board.panel).toEqual([digits(1), digits(2), BLANK, BLANK]);
    expect(board.display.mistakes).toEqual([]);
  });

  test('a bus that was held is freed, and the display comes back', () => {
    const board = new ProbeBoard();
    board.holdDisplayBus(true);
    board.tell('7W', 100_000);
    board.holdDisplayBus(false);
    board.advanceUs(RETRY_US + 2 * REDRAW_US);
    expect(board.panel[0]).toBe(digits(7));
  });

  /** P3 was once set in every byte: on display boards as they are bought, blackout left the light on, and paper fogged. */
  test('its light is put out and dimmed also where the transistor on P3 was left in', () => {
    const board = new ProbeBoard();
    for (const percent of [0, 100, 1, 0]) {
      board.tell(`${percent}i1W2W`, REDRAW_US);
      expect(board.displayLightPercent).toBe(percent);
    }
    board.plugDisplay(false);
    board.advanceUs(RETRY_US);
    board.plugDisplay(true);
    board.advanceUs(RETRY_US + REDRAW_US + 50_000);
    expect(board.displayLightPercent).toBe(0);
    expect(board.display.mistakes).toEqual([]);
  });

  /** Why the transistor has to go: no firmware is as quick as the expander's own power-up. */
  test('its light flashes at power-up where the transistor on P3 was left in, until the first byte', () => {
    const board = new ProbeBoard();
    board.reset('power');
    expect(board.displayLightPercent).toBe(100);
    board.advanceUs(120_000);
    expect(board.displayLightPercent).toBe(0);
  });

  test('light, tone and safelight do what they are told', () => {
    const board = new ProbeBoard();
    board.tell('40i880t0s');
    expect(board.displayLightPercent).toBe(40);
    expect(board.tones.at(-1)).toMatchObject({ hz: 880, volumePercent: 50 });
    expect(board.safelightOn).toBe(false);
    board.tell('0i0t1s');
    expect(board.displayLightPercent).toBe(0);
    expect(board.tones.at(-1)).toMatchObject({ hz: 0 });
    expect(board.safelightOn).toBe(true);
  });
});
