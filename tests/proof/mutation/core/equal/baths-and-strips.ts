import type { Equal } from '../../equal.js';
import { padding } from './kinds.js';

/** Rows of baths and of their times as they come and lie, a bath under way, a strip that is chosen. */
export const bathsAndStrips: readonly Equal[] = [
  {
    file: 'firmware/core/baths/baths.ts',
    line: 'return min(BATHS, i32(bathAt(row, 0).baths)) * BATH_BYTES;',
    change: /^8 as [79]$/,
    why: 'it stands for more than eight, which no row has: fields are checked, and the shelf has a checksum',
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'return min(BATH_POINTS, i32(pointAt(',
    change: /^12 as 1[13]$/,
    why: 'it stands for more than twelve, which no row has: fields are checked, and the shelf has a checksum',
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'return bathAt(incomingBaths, 0);',
    change: /^0 as 1$/,
    why: 'the count that begins a row is then kept with its second bath, which has the same one when it comes; of a row of one nothing asks for a second, and the first gets its count with all else',
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.fill(incomingBaths, 0, BATH_ROW_BYTES);',
    change: /^(?<tens>\d+)(?:2 as \k<tens>1|4 as \k<tens>3|6 as \k<tens>5|8 as \k<tens>7)$/,
    why: 'the last byte of the row is padding, and so is the one before it, which fills up behind words of the checkup: both are zero, and nothing writes them',
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'for (let before = 0; before < bathCount(); before++) {',
    change: /^0 as -1$/,
    why: 'before the row lie the settings: where a label would be is the middle of whether it is fibre paper, which is 0 or 1, and so an empty text, which is the label of no bath',
  },
  {
    file: 'firmware/core/baths/incoming-points.ts',
    line: 'memory.fill(incomingPoints, 0, POINT_ROW_BYTES);',
    change: /^576 as 575$/,
    why: padding,
  },
  {
    file: 'firmware/core/jobs/checkup/checkup-plan.ts',
    line: 'eveningPlan.begin(true);',
    change: /^1 as 0$/,
    why: 'whether dodges stop is asked of a recipe alone, while it is planned, which begins its plan anew',
  },
  {
    file: 'firmware/core/jobs/process/process-figures.ts',
    line: 'return clicks > 0 // mixed fresh, or not after all',
    change: /^0 as -1$|^i32\.gt_s as ge_s$/,
    why: 'a turn of no detents was told before, so here there is a click up or one down',
  },
  {
    file: 'firmware/core/jobs/process/process.ts',
    line: 'timed.firstToneMs = u32(max<i64>(1, (nowUs - timed.startedUs) / 1000));',
    change: /^1 as [02]$/,
    why: 'a tap is not awaited in the first two seconds, and what is due is done before it, so that thousands of milliseconds have gone by',
  },
  {
    file: 'firmware/core/jobs/process/process.ts',
    line: 'return isDue ? Move.Agitate : Move.None;',
    change: /^0 as -1$/,
    why: 'the sounds alone ask, for the three moves that there are: whatever else it is, nothing sounds',
  },
  {
    file: 'firmware/core/jobs/recipe/recipe-in-use.ts',
    line: 'if (length < RECIPE_BEGIN_BYTES || length > i32(RECIPE_BODY_BYTES)) return ErrorCode.NotFound;',
    change: /^2200 as 2201$/,
    why: 'the longest recipe that is kept has as many bytes as there is room for, and none is one byte longer',
  },
  {
    file: 'firmware/core/jobs/strip/strip-choice.ts',
    line: 'memory.copy(changetype<usize>(chosenStrip), changetype<usize>(from), STRIP_SET_BYTES);',
    change: /^32 as 31$/,
    why: padding,
  },
  {
    file: 'firmware/core/jobs/strip/strip-plan.ts',
    line: 'if (stepStops120 * (patches - 1) > OFFSET_STOPS120) return PlanCode.StopsOutOfRange;',
    change: /^1200 as 1201$/,
    why: '1201 is a prime: one step would be as long, which the line above refuses',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'max<i64>(0, us) + 50_000',
    change: /^0 as 1$/,
    why: 'either is shown as 0.0',
  },
];
