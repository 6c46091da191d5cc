import { describe, expect, test } from 'vitest';
import { Random } from '../../../setup/random.js';
import { ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';

const FOUND_US = 400_000;
const ANSWER_US = 30_000;
/** Longer than a program at the other cable may be silent. */
const SILENT_US = 8_500_000;

function atUsb(laptop = {}) {
  const board = new ProbeBoard();
  const port = board.usbCable.plug(laptop);
  board.advanceUs(FOUND_US);
  const heard = (from = board.usbCable.port) => String(from?.read() ?? '');
  const answers = () => {
    board.usbCable.port!.write('I');
    board.advanceUs(ANSWER_US);
    return /^I /m.test(heard());
  };
  return { board, port, heard, answers };
}

describe.runIf(boardTestsRun)('trouble on the USB cable', () => {
  test('a board that was not spoken to says nothing, because a laptop echoes what comes before it is ready', () => {
    const { board, heard } = atUsb();
    board.pressFor(50_000);
    board.advanceUs(1_000_000);
    expect(heard()).toBe('');
  });

  test('a laptop that never says that the port is open is answered all the same', () => {
    const { answers, board } = atUsb({ tellsReady: false });
    expect(answers()).toBe(true);
    expect(board.mistakes).toEqual([]);
  });

  test('a program that closes the port in the middle of a line leaves nothing of it to the next', () => {
    const { board, heard } = atUsb();
    board.usbCable.port!.write('I'.repeat(60)); // answers that nobody reads to their end
    board.advanceUs(2_000);
    board.usbCable.close();
    board.advanceUs(100_000);
    board.usbCable.open();
    board.advanceUs(100_000);
    expect(heard()).toBe('');
    board.usbCable.port!.write('I');
    board.advanceUs(ANSWER_US);
    expect(heard()).toMatch(/^I /m);
    expect(board.mistakes).toEqual([]);
  });

  test('a reset of the bus ends the conversation, and the next begins when the laptop has found the board again', () => {
    const { board, answers } = atUsb();
    expect(answers()).toBe(true);
    const { host } = board.usbCable;
    for (let times = 0; times < 3; times++) {
      board.usbCable.port!.write('I'.repeat(60));
      board.advanceUs(3_000 + 700 * times);
      board.chip.usb.resetBus();
      host.stop();
      board.usbCable.plug();
      board.advanceUs(FOUND_US);
      expect(answers()).toBe(true);
    }
    expect(board.mistakes).toEqual([]);
  });

  test('a laptop that sleeps and wakes goes on where it was', () => {
    const { board, answers } = atUsb();
    expect(answers()).toBe(true);
    board.usbCable.host.suspend();
    board.advanceUs(3_600_000_000);
    board.usbCable.host.resume();
    board.advanceUs(ANSWER_US);
    expect(answers()).toBe(true);
    expect(board.watchdogResets).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });

  // Erratum E15: after some bus errors the controller hears nothing any more.
  test('a controller that hangs is started anew, and the laptop finds the board again', () => {
    const { board, answers } = atUsb();
    expect(answers()).toBe(true);
    board.chip.usb.hang();
    board.advanceUs(1_000_000);
    expect(board.usbCable.found).toMatchObject({ name: 'Treadle board' });
    expect(answers()).toBe(true);
    expect(board.mistakes).toEqual([]);
  });

  test('a cable pulled and put back at any moment is found again, and pulled it stays quiet', () => {
    const random = new Random(20270305);
    const { board, answers } = atUsb();
    for (let times = 0; times < 6; times++) {
      board.usbCable.port!.write('I'.repeat(60));
      board.advanceUs(random.below(20_000));
      board.usbCable.unplug();
      board.advanceUs(random.below(300_000));
      board.usbCable.plug();
      board.advanceUs(FOUND_US);
      expect(answers()).toBe(true);
    }
    expect(board.lampEdges).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });

  test.for([1, 2, 3])(
    'packets and acknowledgements that are lost lose and double nothing (seed %i)',
    (seed) => {
      const { board, heard } = atUsb();
      const random = new Random(seed);
      board.usbCable.host.damage = {
        losesAcknowledgement: () => random.below(5) === 0,
        damagesPacket: () => random.below(5) === 0,
      };
      let told = '';
      for (let lines = 0; lines < 40; lines++) {
        board.usbCable.port!.write('I');
        board.advanceUs(ANSWER_US);
        told += heard();
      }
      expect(told.match(/^I \d+ \d+$/gm)).toHaveLength(40);
      expect(board.mistakes).toEqual([]);
    },
  );
});

describe.runIf(boardTestsRun)('two cables at once', () => {
  test('the one that talks first is answered; the other when the first has long been silent', () => {
    const { board, heard } = atUsb();
    expect(board.tell('I').map(({ letter }) => letter)).toEqual(['I']);
    board.usbCable.port!.write('I');
    board.advanceUs(1_000_000);
    expect(heard()).toBe('');
    board.advanceUs(SILENT_US);
    expect(heard()).toMatch(/^I /m);
    expect(board.heard()).toEqual([]);
  });

  test('a USB cable that is pulled gives the word to the other at once', () => {
    const { board, answers } = atUsb();
    expect(answers()).toBe(true);
    board.usbCable.unplug();
    board.advanceUs(10_000);
    expect(board.tell('I').map(({ letter }) => letter)).toContain('I');
  });

  test('a program that closes its USB port does so as well', () => {
    const { board, answers } = atUsb();
    expect(answers()).toBe(true);
    board.usbCable.close();
    board.advanceUs(50_000);
    expect(board.tell('I').map(({ letter }) => letter)).toContain('I');
  });
});
