import type { Duplex } from 'node:stream';
import { SimulatedBoard, type SimulatedBoardOptions } from '../../../../host/board/sim/simulated-board.js';
import { compileCore } from '../../../setup/compile-core.js';

let module: WebAssembly.Module | undefined;

/** A simulated board whose core is scripted-core.as.ts. */
export function scriptedBoard(options: SimulatedBoardOptions = {}): SimulatedBoard {
  module ??= compileCore('tests/host/board/sim/scripted-core.as.ts');
  return new SimulatedBoard({ ...options, module });
}

/** What the board said since the last call. */
export function heard(cable: Duplex): string[] {
  const text = String(cable.read() ?? '');
  return text.split('\n').slice(0, -1);
}
