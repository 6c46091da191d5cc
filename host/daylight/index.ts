/**
 * `treadle/daylight`: what a printer works out by daylight: other sizes, stops, papers and filters, contrast and dry-down. No board is
 * needed, and no native package is loaded.
 */

export {
  type Aperture,
  ApertureError,
  type ApertureScale,
  apertureFactor,
  apertureText,
  readAperture,
} from '../darkroom/optics/aperture.js';
export {
  areaFactor,
  type Distances,
  distancesMm,
  MagnificationError,
  magnificationAtColumn,
  magnificationFactor,
} from '../darkroom/optics/magnification.js';
export {
  type CharacteristicCurve,
  densityAt,
  logExposureFor,
} from '../darkroom/paper/characteristic-curve.js';
export {
  type IsoFigures,
  isoFiguresFrom,
  nearestStatedSpeed,
  ReadingsError,
  type StepReading,
} from '../darkroom/paper/iso-6846.js';
export {
  commonPaper,
  curveFrom,
  type FilterFigures,
  Paper,
  PaperError,
  type PaperFigures,
} from '../darkroom/paper/paper.js';
export { paperFileSchema, readPaper } from '../darkroom/paper/paper-file.js';
export { coverOf } from '../darkroom/sheet/cover.js';
export { dryDownStops } from '../recipe/dry-down.js';
export { type Advice, recipeAdvice, stripAdvice } from './advice.js';
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
  readGradeTable,
  standardGrades,
} from './contrast/grade-table.js';
export {
  baseAfterDryDown,
  commonDryDown10,
  DryDownError,
  type DryDownPatch,
  dryDownFromMatch,
  dryDownSheet,
} from './dry-down.js';
export { changeFilter, type FilterChange } from './filters/change-filter.js';
export { filterAdvice } from './filters/filter-advice.js';
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
export {
  type Caution,
  type Change,
  type Reason,
  type Rescaled,
  RescaleError,
  type RescaleRequest,
  rescale,
  type SizeChange,
} from './rescale.js';
export {
  dryDownRecipe,
  type RecipeChange,
  type Revision,
  refilterRecipe,
  rescaleRecipe,
} from './revise/revise.js';
export { type KeptBurn, type SplitAccount, splitRecipe } from './revise/split-recipe.js';
