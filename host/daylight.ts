/**
 * What a printer works out by daylight: other sizes, stops, papers and filters, contrast, dry-down, the sheet for
 * the negative's file, the night as a page. No board is needed, and no picture library is loaded; pictures are in
 * darkroom.ts.
 */
export { type Advice, recipeAdvice, stripAdvice } from './advice/advice.js';
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
} from './baths/index.js';
export {
  baseAfterContrast,
  type ContrastAdvice,
  type ContrastCaution,
  ContrastError,
  type ContrastTables,
  contrastAdvice,
  contrastFromStrip,
  neededRange,
  type TwoPointReading,
} from './contrast/contrast.js';
export { type LightKind, type NegativeReadings, neededRangeFromDensities } from './contrast/densitometer.js';
export {
  type Grade,
  type GradeTable,
  gradeForRange,
  gradeTableSchema,
  nearestGrade,
  standardGrades,
} from './contrast/grade-table.js';
export {
  baseAfterDryDown,
  commonDryDown10,
  DryDownError,
  type DryDownPatch,
  dryDownFromMatch,
  dryDownSheet,
  dryDownStops,
} from './dry-down/dry-down.js';
export { changeFilter, type FilterChange } from './filters/change-filter.js';
export {
  commonFilterTable,
  type FilterEntry,
  FilterError,
  type FilterTable,
  filterEntry,
  filterFactor,
  filterTableSchema,
  readFilterTable,
} from './filters/filter-table.js';
export { SplitError, type SplitGrade, type SplitStrips, splitGrade } from './filters/split-grade.js';
export type { Backdrop } from './map/figure.js';
export { type MapOptions, printingMapHtml, printingMapSvg } from './map/printing-map.js';
export { type NightPageOptions, nightPage } from './night-picture/night-page.js';
export {
  type LoggedLight,
  type NightRow,
  type NightTotals,
  nightRows,
  nightTotals,
} from './night-picture/night-rows.js';
export {
  type Aperture,
  ApertureError,
  type ApertureScale,
  apertureFactor,
  apertureText,
  readAperture,
} from './optics/aperture.js';
export {
  areaFactor,
  type Distances,
  distancesMm,
  MagnificationError,
  magnificationAtColumn,
  magnificationFactor,
} from './optics/magnification.js';
export { type CharacteristicCurve, densityAt, logExposureFor } from './paper/characteristic-curve.js';
export {
  type IsoFigures,
  isoFiguresFrom,
  nearestStatedSpeed,
  ReadingsError,
  type StepReading,
} from './paper/iso-6846.js';
export {
  commonPaper,
  curveFrom,
  type FilterFigures,
  Paper,
  PaperError,
  type PaperFigures,
} from './paper/paper.js';
export { paperFileSchema, readPaper } from './paper/paper-file.js';
export { type PrintSize, readPrintSize, SizeError } from './rescale/print-size.js';
export {
  type Caution,
  type Change,
  type Reason,
  type Rescaled,
  RescaleError,
  type RescaleRequest,
  rescale,
  type SizeChange,
} from './rescale/rescale.js';
export {
  dryDownRecipe,
  type RecipeChange,
  type Revision,
  refilterRecipe,
  rescaleRecipe,
  splitRecipe,
} from './revise/revise.js';
export { coverOf } from './shapes/cover.js';
export { type Shape, type ShapeInput, shapeSchema } from './shapes/shape.js';
