/**
 * `treadle/sim`: a board made of the very core that runs on the chip, on a virtual clock or the real one. Needs the types
 * of Node (`@types/node`); the package @lydell/node-pty is loaded when a port is offered.
 */

export type { BoardHome, LampEdge, ResetCause, ToneChange } from './board-home.js';
export { Flash } from './flash.js';
export { type OfferedPort, offerPort } from './pty.js';
export { SimulatedBoard, type SimulatedBoardOptions } from './simulated-board.js';
export { Timeline } from './timeline.js';
