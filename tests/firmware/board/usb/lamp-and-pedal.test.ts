import { describe, expect, test } from 'vitest';
import { lightsUs, ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';

const FOUND_US = 400_000;
const LATENCY_US = 1000;

/** A board whose USB cable is full both ways, and whose laptop asks for everything about it over and over. */
function flooded() {
  const board = new ProbeBoard();
  const port = board.usbCable.plug();
  board.advanceUs(FOUND_US);
  return { board, port };
}

function keepFull(board: ProbeBoard): () => void {
  let full = true;
  const { host } = board.usbCable;
  const ask = () => {
    if (!full) return;
    host.begin(host.control({ type: 0x80, request: 6, value: 0x0200, length: 255 }), ask);
  };
  const feed = () => {
    if (!full) return;
    board.usbCable.port?.write(Buffer.alloc(64, '\n'), feed);
    board.usbCable.port?.read();
  };
  board.usbCable.port!.write('1q1v');
  ask();
  feed();
  return () => {
    full = false;
    board.usbCable.port?.write('0v');
  };
}

describe.runIf(boardTestsRun)('lamp and pedal while USB is full both ways', () => {
  test.for([10_000, 250_000])('a light of %i us is right to 2 us', (onUs) => {
    const { board, port } = flooded();
    port.write(`${onUs}x`);
    board.advanceUs(20_000);
    const rest = keepFull(board);
    board.advanceUs(10_000);
    board.pedal(true);
    board.advanceUs(onUs + 20_000);
    rest();
    expect(Math.abs(lightsUs(board.lampEdges)[0]! - onUs)).toBeLessThanOrEqual(2);
    expect(board.mistakes).toEqual([]);
  });

  test('a light is right to 2 us, and the pedal is heard in a millisecond, while the bus is reset over and over', () => {
    const { board, port } = flooded();
    const onUs = 100_000;
    port.write(`${onUs}x`);
    board.advanceUs(20_000);
    let resets = 0;
    const shake = () => {
      board.chip.usb.resetBus();
      if (++resets < 400) board.timeline.at(board.nowUs + 397, shake);
    };
    shake();
    board.advanceUs(5_000);
    const downUs = board.exactUs;
    board.pedal(true);
    board.advanceUs(onUs + 20_000);
    expect(resets).toBeGreaterThan(200);
    expect(board.lampEdges[0]!.atUs - downUs).toBeLessThanOrEqual(LATENCY_US);
    expect(Math.abs(lightsUs(board.lampEdges)[0]! - onUs)).toBeLessThanOrEqual(2);
    expect(board.mistakes).toEqual([]);
  });
});
