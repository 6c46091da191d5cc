/**
 * `treadle/archive`: what the boards logged, kept in a file of SQLite's, and read as a person wants it. The package libsql
 * is loaded when an archive is opened.
 */

export type {
  Archive,
  ArchivedRecord,
  ArchiveReader,
  KeptRecipe,
  NightCount,
  RecordFilter,
  Remark,
} from './archive/archive.js';
export { usualArchiveFile } from './archive/archive-name.js';
export {
  type CollectOptions,
  type CollectReport,
  collectIntoArchive,
} from './archive/collect-log.js';
export { openArchive } from './archive/file-archive.js';
export { readArchive } from './archive/read-archive.js';
export { ArchiveError } from './archive-error.js';
export {
  type EventEntry,
  type ExposureEntry,
  entryOf,
  isExposure,
  type LogEntry,
  logEntries,
  type UnreadableEntry,
  type UnusableClockEntry,
} from './log/log-entry.js';
export { nightOf, nightSpan } from './log/night.js';
export { RecipeOverError } from './recipes/not-over.js';
export { type SendOptions, type Sent, sendRecipe } from './recipes/send-recipe.js';
