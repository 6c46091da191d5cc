export {
  type ErrorCode,
  limits,
  type Message,
  type MessageOf,
  type SettingName,
  settings,
} from '../shared-protocol/index.js';
export { version } from '../shared-protocol/project.js';
export {
  Archive,
  type ArchivedRecord,
  type KeptRecipe,
  type RecordFilter,
  type Remark,
} from './archive/archive.js';
export { usualArchiveFile } from './archive/archive-file.js';
export { type PullOptions, type PullReport, pullIntoArchive } from './archive/pull-log.js';
export { type Clock, systemClock } from './clock.js';
export * from './errors.js';
export {
  type Bath,
  type BathTimes,
  Board,
  type BoardCounters,
  type CallOptions,
  type Job,
  type RecipeLine,
  type Status,
  type StripSettings,
} from './link/board.js';
export {
  type AskedPort,
  askPorts,
  type FindOptions,
  type FoundBoard,
  openOnlyBoard,
} from './link/find-boards.js';
export { laptopVersion, type Welcome } from './link/handshake.js';
export type { LinkCounters } from './link/link.js';
export { defaultTiming, type LinkOptions, type LinkTiming } from './link/link-options.js';
export type { LogBatch } from './link/log-pull.js';
export type { LogRecord } from './link/log-record.js';
export type { Notice } from './link/notices.js';
export { type OpenBoardOptions, openBoard } from './link/open-board.js';
export type { BoardDodge, BoardPass, BoardRecipe, UploadOptions } from './link/recipe-upload.js';
export { listPorts, type PortFacts, usualBaudRate } from './link/serial-port.js';
export { type Connection, type StayOptions, stayConnected, type Whereabouts } from './link/stay-connected.js';
export {
  type EventEntry,
  type ExposureEntry,
  entriesOfNight,
  isExposure,
  type LogEntry,
  logEntries,
  type UnreadableEntry,
} from './log/log-entry.js';
export { nightOf } from './log/night.js';
export type { BoardHome, LampEdge, ResetCause, ToneChange } from './sim/board-home.js';
export { Flash } from './sim/flash.js';
export { type OfferedPort, offerPort } from './sim/pty.js';
export { SimulatedBoard, type SimulatedBoardOptions } from './sim/simulated-board.js';
