import { limits } from '../../../shared-protocol/limits.js';
import { unbend } from '../../darkroom/paper/characteristic-curve.js';
import { isoBounds, isoPoints } from '../../darkroom/paper/iso-6846.js';
import { InputError } from '../../errors.js';
import { type FilterEntry, type FilterTable, filterEntry, filterText } from '../filters/filter-table.js';
import { type Grade, type GradeTable, gradeForRange, nearestGrade } from './grade-table.js';

/** What one strip told about the contrast that a negative needs. */
export interface TwoPointReading {
  /** ISO R of the paper, through the filter that the strip was made with. */
  readonly rangeR: number;
  /** The time that prints the lightest wanted tone right, and the one that prints the darkest right. */
  readonly highlightMs: number;
  readonly shadowMs: number;
}

/** Tables that the printer owns. */
export interface ContrastTables {
  readonly grades: GradeTable;
  readonly filters?: FilterTable;
}

export interface ContrastAdvice {
  /** What the negative needs, unrounded, in ISO R. */
  readonly neededR: number;
  /** The grade whose band holds it; outside the table the nearest, with a caution. */
  readonly grade: Grade;
  /** The filter nearest to it, with its range; absent where the table knows no ranges. */
  readonly filter?: FilterEntry;
  /** Where its range comes from, where not all of the table is from one place. */
  readonly filterSource?: string;
  readonly cautions: readonly ContrastCaution[];
}

export interface ContrastCaution {
  readonly kind: 'outside-table' | 'filter-far' | 'small-difference';
  readonly text: string;
}

/** Readings that cannot be; `field` names the one to look at again. */
export class ContrastError extends InputError {
  override readonly name = 'ContrastError';
  constructor(
    readonly field: string,
    message: string,
  ) {
    super(message);
  }
}

/** The times are at most this far apart on a strip that was read right: beyond it no paper could help. */
const FARTHEST_STOPS = 5;
/** Half of the difference between neighbouring grades. */
const FAR_FILTER_R = 10;
/** Eyes and strips settle a time to about a sixth of a stop: below that, leave the contrast alone. */
const SETTLED_STOPS = 1 / 6;

/**
 * The paper range that a negative needs: R = L + 100 log10(highlight time / shadow time), where L is the range
 * of the paper that the strip was made on. Where the highlights need more time than the shadows, the negative's
 * range is longer than the paper's and a softer paper is called for.
 * Derivation: the highlight prints right at t_hi = H_T 10^D_hi / E and the shadow at t_sh = H_S 10^D_sh / E, so
 * D_hi - D_sh = log10(H_S / H_T) + log10(t_hi / t_sh).
 * @throws ContrastError for times or ranges that no strip gives.
 */
export function neededRange({ rangeR, highlightMs, shadowMs }: TwoPointReading): number {
  checkRange('range', rangeR);
  checkTime('highlight', highlightMs);
  checkTime('shadow', shadowMs);
  const apartStops = Math.log2(highlightMs / shadowMs);
  if (Math.abs(apartStops) > FARTHEST_STOPS)
    throw new ContrastError(
      'shadow',
      `the two times are ${Math.abs(apartStops).toFixed(1)} stops apart, more than any paper can make up for; ` +
        'check that both were read on one strip, and which is which',
    );
  const neededR = rangeR + 100 * Math.log10(highlightMs / shadowMs);
  if (neededR >= 10) return neededR;
  throw new ContrastError(
    'highlight',
    `these times would need a paper of R${neededR.toFixed(0)}, and there is none; were highlight and shadow swapped?`,
  );
}

/** Grade, filter and cautions for a needed range. */
export function contrastAdvice(range: number, tables: ContrastTables): ContrastAdvice {
  // Half-way between two is half-way, whatever the logarithm made of its last digit.
  const neededR = Number(range.toPrecision(12));
  const filter = nearestFilter(tables.filters, neededR);
  return {
    neededR,
    grade: nearestGrade(tables.grades, neededR),
    ...(filter !== undefined && { filter }),
    ...(filter !== undefined &&
      tables.filters?.rangeSource && { filterSource: tables.filters.rangeSource(filter.filter) }),
    cautions: [...outsideCaution(tables.grades, filter, neededR), ...farCaution(filter, neededR)],
  };
}

/** Advice from one strip; also says when the difference is too small to act on. */
export function contrastFromStrip(reading: TwoPointReading, tables: ContrastTables): ContrastAdvice {
  const advice = contrastAdvice(neededRange(reading), tables);
  if (Math.abs(Math.log2(reading.highlightMs / reading.shadowMs)) >= SETTLED_STOPS) return advice;
  const text = 'highlights and shadows are right at nearly the same exposure: the contrast is right already';
  return { ...advice, cautions: [...advice.cautions, { kind: 'small-difference', text }] };
}

/**
 * The base for the new filter. Its factor carries one tone over unchanged (the table says which); how far that
 * tone lies between the two that were read decides which mixture of their times it stands for.
 * A base that is not in whole milliseconds is rounded half up, once.
 * @throws ContrastError where the time would be beyond the board; FilterError for a filter not in the table.
 */
export function baseAfterContrast(
  { highlightMs, shadowMs }: TwoPointReading,
  table: FilterTable,
  from: string,
  to: string,
): number {
  const factor = filterEntry(table, to).factor / filterEntry(table, from).factor;
  const share = toneShares[table.toneHeld];
  const baseMs = Math.round(factor * highlightMs ** (1 - share) * shadowMs ** share);
  if (baseMs >= 1 && baseMs <= limits.longestDoseMs) return baseMs;
  throw new ContrastError(
    'base',
    `the new base would be ${baseMs} ms, more than the board can give; change the lens stop`,
  );
}

/** Net density of an ordinary glossy paper, for where its speed point lies. */
const ORDINARY_NET_DENSITY = 2;
/** How far the held tone lies from the highlights (0) to the shadows (1) of the paper's scale. */
const toneShares = {
  highlights: 0,
  // 'middle' is the standard's speed point, 0.60 above base: filters of one ISO speed hold it.
  middle: shareOfScale(isoPoints.speedNetDensity / ORDINARY_NET_DENSITY),
  shadows: 1,
} as const;

function shareOfScale(densityShare: number): number {
  const lightest = unbend(isoPoints.lowestNetDensity / ORDINARY_NET_DENSITY);
  return (unbend(densityShare) - lightest) / (unbend(isoPoints.highestNetShare) - lightest);
}

function nearestFilter(table: FilterTable | undefined, neededR: number): FilterEntry | undefined {
  const apart = (entry: FilterEntry) => Math.abs(entry.rangeR! - neededR);
  return table?.filters
    .filter(({ filter, rangeR }) => rangeR !== undefined && filter !== '')
    .reduce<FilterEntry | undefined>(
      (best, entry) => (best === undefined || apart(entry) < apart(best) ? entry : best),
      undefined,
    );
}

function outsideCaution(
  grades: GradeTable,
  filter: FilterEntry | undefined,
  neededR: number,
): ContrastCaution[] {
  if (gradeForRange(grades, neededR) !== undefined) return [];
  const softest = Math.max(...grades.map(({ toR }) => toR));
  const hardest = Math.min(...grades.map(({ fromR }) => fromR));
  const needed = `R${neededR.toFixed(0)}`;
  const text =
    neededR > softest
      ? `${needed} is softer than any grade in the table (to R${softest})${beyondGrades(filter, neededR, 'let the highlights go, and burn them in')}`
      : neededR < hardest
        ? `${needed} is harder than any grade in the table (from R${hardest})${beyondGrades(filter, neededR, 'the print will stay flat')}`
        : `${needed} falls between the table's grades`;
  return [{ kind: 'outside-table', text }];
}

/** A filter may go on where graded papers end; what to do is told only where it does not either. */
function beyondGrades(filter: FilterEntry | undefined, neededR: number, elseDo: string): string {
  if (filter?.rangeR === undefined) return `: ${elseDo}`;
  return isNear(filter.rangeR, neededR)
    ? `; variable-contrast paper comes to it through ${filterText(filter.filter)} (R${filter.rangeR})`
    : `, and than any filter: ${elseDo}`;
}

function isNear(rangeR: number, neededR: number): boolean {
  return Math.abs(rangeR - neededR) <= FAR_FILTER_R;
}

function farCaution(filter: FilterEntry | undefined, neededR: number): ContrastCaution[] {
  if (filter?.rangeR === undefined || isNear(filter.rangeR, neededR)) return [];
  const text =
    `the nearest in the table, ${filterText(filter.filter)}, gives R${filter.rangeR}, ` +
    `${Math.abs(filter.rangeR - neededR).toFixed(0)} away: make a strip with it before you trust it`;
  return [{ kind: 'filter-far', text }];
}

export function checkRange(field: string, rangeR: number): void {
  if (rangeR >= isoBounds.rangeR.min && rangeR <= isoBounds.rangeR.max) return;
  throw new ContrastError(
    field,
    `a paper range of R${rangeR} is outside R${isoBounds.rangeR.min} to R${isoBounds.rangeR.max}; it is in the paper's data sheet as ISO R`,
  );
}

function checkTime(field: string, timeMs: number): void {
  if (timeMs > 0 && timeMs <= limits.longestDoseMs) return;
  throw new ContrastError(field, `the ${field} time is ${timeMs} ms; it must be above 0 and at most an hour`);
}
