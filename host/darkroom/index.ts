/**
 * `treadle/pictures`: the virtual darkroom. Lamp, enlarger, negative and paper, and the picture that comes of them. The
 * package sharp is loaded when a picture file is read or written.
 */

export {
  commonEnlarger,
  type Enlarger,
  easelLux,
  enlargerThatSuits,
  leftWideOpen,
  type Setup,
} from './light/enlarger.js';
export {
  type LampBehaviour,
  LampError,
  LampTrace,
  lampFromLagAndRise,
  pulsesOnUs,
  type RelayEdge,
} from './light/lamp.js';
export { boathouseNegative } from './negative/demo-negative.js';
export { framed } from './negative/framed.js';
export { commonScanReading, type Negative, type ScanReading } from './negative/negative.js';
export { negativeFromScan } from './negative/scan.js';
export { ScanError } from './negative/scan-error.js';
export { tied } from './negative/tied.js';
export type { GreyPicture } from './picture/grey.js';
export { type PatchCaption, printPng, stripPng } from './picture/picture-file.js';
export {
  enlargerOfRightPrint,
  luxOf,
  luxSecondsThatSuit,
  type PreviewSetup,
  type PrintPreview,
  picturePrint,
  previewPrint,
  previewStrip,
  setupOf,
  shapesOf,
} from './picture/preview.js';
export { render } from './picture/render.js';
export {
  type TerminalColour,
  type TerminalFacts,
  terminalColour,
  terminalPicture,
} from './picture/terminal-picture.js';
export {
  type ExposedSheet,
  type GivenLight,
  type PassShapes,
  segmentLightMs,
  sheetAsGiven,
  sheetAsPlanned,
  stripBands,
  stripExposuresMs,
} from './sheet/exposed-sheet.js';
export {
  type Band,
  type Sheet,
  SheetError,
  type SheetLight,
  sheetDensityAt,
  type Tool,
  wholeSheet,
} from './sheet/sheet.js';
