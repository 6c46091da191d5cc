/**
 * `treadle/sim`: a board made of the very core that runs on the chip, on a virtual clock or the real one. Needs the types
 * of Node (`@types/node`); the package @lydell/node-pty is loaded when a port is offered.
 */

export type { BoardHome, LampEdge, ResetCause, ToneChange } from './board-home.js';
export { CoreBoard, type CoreBoardOptions } from './core-board.js';
export { Flash } from './flash.js';
export { FlashMemory } from './flash-memory.js';
export { type OfferedPort, offerPort } from './pty.js';
export type { Cable } from './serial-line.js';
export { SimulatedBoard, type SimulatedBoardOptions } from './simulated-board.js';
export { Timeline } from './timeline.js';
