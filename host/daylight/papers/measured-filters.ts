import type { PaperFigures } from '../../darkroom/paper/paper.js';
import { type FilterProfile, factorBetween } from '../../darkroom/profile/paper-profile.js';
import type { Interval } from '../../darkroom/reading/strip-figures.js';
import { counted } from '../../figures.js';
import {
  commonFilterTable,
  type FilterTable,
  filterText,
  isSameFilter,
  knownFilter,
} from '../filters/filter-table.js';
import { type MeasuredPaper, paperName } from './measured-paper.js';

/** The filters of a paper that was measured: each figure says whether it was, and between what it lies. */
export function measuredFilters(measured: MeasuredPaper): FilterTable {
  return {
    name: `${paperName(measured)}, as measured`,
    toneHeld: 'middle',
    filters: entriesOf(measured.figures, measured.profile.referenceFilter),
    factorSource: (from, to) => factorWords(measured, from, to),
    rangeSource: (filter) => rangeWords(measured, filter),
  };
}

/** The filters of a paper's own file: their factors are its speeds. */
export function filtersOfPaper(figures: PaperFigures): FilterTable {
  return {
    name: figures.name,
    toneHeld: 'middle',
    filters: entriesOf(figures, Object.keys(figures.filters)[0]!),
  };
}

/** On the scale of the common table, so that the factors of both can be laid side by side. */
function entriesOf({ filters }: PaperFigures, reference: string): FilterTable['filters'] {
  const scale = (knownFilter(commonFilterTable, reference)?.factor ?? 1) * filters[reference]!.speedP;
  return Object.entries(filters).map(([filter, { speedP, rangeR }]) => ({
    filter,
    factor: Number((scale / speedP).toPrecision(5)),
    rangeR: Math.round(rangeR),
  }));
}

/** From one filter to another, where both were measured: what errs in both alike falls out of it. */
export function measuredFactor(measured: MeasuredPaper, from: string, to: string): Interval | undefined {
  const [one, other] = [profileOf(measured, from), profileOf(measured, to)];
  if (one?.factor === undefined || other?.factor === undefined) return undefined;
  return factorBetween(measured.profile, one.filter, other.filter);
}

function factorWords(measured: MeasuredPaper, from: string, to: string): string {
  if (isSameFilter(from, to)) return 'same filter';
  const factor = measuredFactor(measured, from, to);
  const unmeasured = [from, to].filter((filter) => profileOf(measured, filter)?.factor === undefined);
  if (unmeasured.length === 1) {
    const other = isSameFilter(unmeasured[0]!, from) ? to : from;
    return `half of it measured on ${paperName(measured)}, through ${filterText(other)}; through ${filterText(unmeasured[0]!)} common practice`;
  }
  if (factor === undefined)
    return `common practice, since ${paperName(measured)} was not measured through ${unmeasured.map(filterText).join(' and ') || 'both'}`;
  const strips = [from, to].reduce((sum, filter) => sum + profileOf(measured, filter)!.strips.length, 0);
  return `${counted(strips, 'strip')} of ${paperName(measured)}, which say x ${factor.low.toFixed(2)} to ${factor.high.toFixed(2)} in 95 of 100 cases`;
}

function rangeWords(measured: MeasuredPaper, filter: string): string {
  const profile = profileOf(measured, filter);
  if (profile?.rangeR === undefined) return 'common practice, not measured';
  const { low, high } = profile.rangeR;
  return `measured by ${counted(profile.strips.length, 'strip')}, R${low.toFixed(0)} to R${high.toFixed(0)} in 95 of 100 cases`;
}

/** Which figures of a picture through these filters are measured, a line each. */
export function measuredWords(measured: MeasuredPaper, filters: readonly string[]): string[] {
  const each = [...new Set(filters)].map((filter) => {
    const rangeR = Math.round(measured.figures.filters[entryName(measured, filter)]?.rangeR ?? 0);
    return `${filterText(filter)}: R${rangeR}, ${rangeWords(measured, filter)}.`;
  });
  const black = measured.profile.black.isMeasured ? 'its black is measured' : 'its black is assumed';
  return [
    `On ${paperName(measured)}, version ${measured.profile.version} of its profile; ${black}.`,
    ...each,
  ];
}

/** Whether it is known how quick the paper is, and not only its filters beside each other. */
export function hasOwnSpeed({ profile }: MeasuredPaper): boolean {
  return profile.filters.some(({ speedP }) => speedP !== undefined);
}

export function profileOf({ profile }: MeasuredPaper, filter: string): FilterProfile | undefined {
  return profile.filters.find((each) => isSameFilter(each.filter, filter));
}

function entryName({ figures }: MeasuredPaper, filter: string): string {
  return Object.keys(figures.filters).find((each) => isSameFilter(each, filter)) ?? filter;
}
