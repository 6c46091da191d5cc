/**
 * `treadle`: what is to be done. Recipe, strip and baths files read, checked and written; the planner, which is the board's
 * own core; and the errors that all of the library throws. No Node built-in is imported and no native package loaded.
 */

export { version } from '../shared-protocol/generated/versions.js';
export { CoreMissingError, coreUrl, provideCore } from './core/load-core.js';
export type { CoreModule } from './core/webassembly.js';
export { type FailureExitCode, InputError, PackageUnavailableError, TreadleError } from './errors.js';
export type { Bath, BathTimes } from './recipe/baths/bath.js';
export {
  formatAreaCm2,
  formatBathTime,
  type Left,
  leftOf,
  readAreaCm2,
  readBaths,
  readBathTime,
  usualBathsFile,
  writeBaths,
} from './recipe/baths/index.js';
export * from './recipe/index.js';
export * from './recipe/planner/index.js';
export { type PrintSize, readPrintSize, SizeError } from './recipe/print-size.js';
export { type Shape, type ShapeInput, shapeSchema } from './recipe/shape.js';
export { readStrip, type StripSettings, stripSettings } from './recipe/strip-file.js';
