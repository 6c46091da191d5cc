export {
  type ErrorCode,
  limits,
  type Message,
  type MessageOf,
  type SettingName,
  settings,
  version,
} from '../shared-protocol/index.js';
export * from './board/errors.js';
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
} from './board/link/board.js';
export {
  type AskedPort,
  askPorts,
  type FindOptions,
  type FoundBoard,
  openOnlyBoard,
} from './board/link/find-boards.js';
export { laptopVersion, type Welcome } from './board/link/handshake.js';
export type { LinkCounters } from './board/link/link.js';
export { defaultTiming, type LinkOptions, type LinkTiming } from './board/link/link-options.js';
export type { LogBatch } from './board/link/log-collection.js';
export type { LogRecord } from './board/link/log-record.js';
export type { Notice } from './board/link/notices.js';
export { type OpenBoardOptions, openBoard } from './board/link/open-board.js';
export type { BoardDodge, BoardPass, BoardRecipe, UploadOptions } from './board/link/recipe-upload.js';
export { listPorts, type PortFacts, usualBaudRate } from './board/link/serial-port.js';
export {
  type Connection,
  type StayOptions,
  stayConnected,
  type Whereabouts,
} from './board/link/stay-connected.js';
export type { BoardHome, LampEdge, ResetCause, ToneChange } from './board/sim/board-home.js';
export { Flash } from './board/sim/flash.js';
export { type OfferedPort, offerPort } from './board/sim/pty.js';
export { SimulatedBoard, type SimulatedBoardOptions } from './board/sim/simulated-board.js';
export { type Clock, systemClock } from './clock.js';
export * from './errors.js';
export type {
  Archive,
  ArchivedRecord,
  ArchiveReader,
  KeptRecipe,
  NightCount,
  RecordFilter,
  Remark,
} from './records/archive/archive.js';
export { usualArchiveFile } from './records/archive/archive-name.js';
export {
  type CollectOptions,
  type CollectReport,
  collectIntoArchive,
} from './records/archive/collect-log.js';
export { openArchive } from './records/archive/file-archive.js';
export { readArchive } from './records/archive/read-archive.js';
export { ArchiveError } from './records/archive-error.js';
export {
  type EventEntry,
  type ExposureEntry,
  entryOf,
  isExposure,
  type LogEntry,
  logEntries,
  type UnreadableEntry,
  type UnusableClockEntry,
} from './records/log/log-entry.js';
export { nightOf, nightSpan } from './records/log/night.js';
