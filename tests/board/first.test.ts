import { expect, test } from 'vitest';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImageOf } from './rig/image.js';

test('it boots', () => {
  const image = buildImageOf('tests/sim/scripted-core.as.ts', 'image-scripted');
  const board = new EmulatedBoard({ image });
  const port = board.plug();
  const t0 = performance.now();
  board.advanceUs(100_000);
  console.log(String(port.read()), board.mistakes.slice(0,10), board.mistakes.length, board.chip.instructions, performance.now() - t0);
  console.log('PC', board.chip.core.PC.toString(16), board.chip.lockedUp, board.chip.core.waiting, board.chip.exactUs);
  board.pedal(true); board.advanceUs(5000); board.pedal(false);
  port.write('RPRIF');
  board.advanceUs(2_000_000);
  console.log(String(port.read()), board.mistakes.slice(0,10), board.lampEdges, board.panel, board.tones, board.watchdogResets, board.chip.instructions, performance.now() - t0);
  expect(board.mistakes).toEqual([]);
});
