/**
 * `treadle/board`: a board at the end of a serial port or of any byte stream. Needs the types of Node (`@types/node`);
 * the package serialport is loaded when a port is opened or listed.
 */

export { limits, type MessageOf, type SettingName, settings } from '../../shared-protocol/index.js';
export { type Clock, systemClock } from '../clock.js';
export * from './errors.js';
export {
  Board,
  type BoardCounters,
  type CallOptions,
  type Job,
  type RecipeLine,
  type Status,
} from './link/board.js';
export {
  type AskedPort,
  askLikelyPorts,
  askPorts,
  type FindOptions,
  type FoundBoard,
  openOnlyBoard,
} from './link/find-boards.js';
export { laptopVersion, type Welcome } from './link/handshake.js';
export type { LinkCounters } from './link/link.js';
export { defaultTiming, type LinkOptions, type LinkTiming } from './link/link-options.js';
export type { LogBatch } from './link/log-collection.js';
export type { LogRecord } from './link/log-record.js';
export type { Notice } from './link/notices.js';
export { type OpenBoardOptions, openBoard } from './link/open-board.js';
export type { UploadOptions } from './link/recipe-upload.js';
export { listPorts, type PortFacts, usualBaudRate } from './link/serial-port.js';
export {
  type Connection,
  type StayOptions,
  stayConnected,
  type Whereabouts,
} from './link/stay-connected.js';
