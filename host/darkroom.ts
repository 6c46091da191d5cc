/**
 * The virtual darkroom: lamp, enlarger, negative and paper, and the picture that comes of them. Loads the picture
 * library, which daylight.ts does without.
 */
export { boathouseNegative } from './darkroom/demo-negative.js';
export {
  commonEnlarger,
  type Enlarger,
  easelLux,
  enlargerThatSuits,
  leftWideOpen,
  type Setup,
} from './darkroom/enlarger.js';
export {
  type ExposedSheet,
  type GivenLight,
  type PassShapes,
  segmentLightMs,
  sheetAsGiven,
  sheetAsPlanned,
  stripBands,
  stripExposuresMs,
} from './darkroom/exposed-sheet.js';
export {
  type LampBehaviour,
  LampError,
  LampTrace,
  lampFromLagAndRise,
  pulsesOnUs,
  type RelayEdge,
} from './darkroom/lamp.js';
export {
  commonScanReading,
  type Negative,
  negativeFromScan,
  ScanError,
  type ScanReading,
} from './darkroom/negative.js';
export { type PatchCaption, writePrintPicture, writeStripPicture } from './darkroom/picture-file.js';
export {
  luxOf,
  luxSecondsThatSuit,
  type PreviewSetup,
  type PrintPreview,
  picturePrint,
  previewPrint,
  previewStrip,
  setupOf,
  shapesOf,
} from './darkroom/preview.js';
export { type GreyPicture, render } from './darkroom/render.js';
export {
  type Band,
  type Sheet,
  SheetError,
  type SheetLight,
  sheetDensityAt,
  type Tool,
  wholeSheet,
} from './darkroom/sheet.js';
export {
  type TerminalColour,
  type TerminalFacts,
  terminalColour,
  terminalPicture,
} from './darkroom/terminal-picture.js';
export { backdropOf } from './map/scan-backdrop.js';
