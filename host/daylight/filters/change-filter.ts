import { limits } from '../../../shared-protocol/limits.js';
import type { Planner } from '../../recipe/planner/index.js';
import {
  FilterError,
  type FilterTable,
  factorSource,
  filterEntry,
  filterFactor,
  filterText,
} from './filter-table.js';

/** What a filter change needs to know of a pass. */
export interface FilteredPass {
  readonly kind: 'base' | 'burn';
  readonly filter: string;
  readonly stops120: number;
}

export interface FilterChange {
  readonly filter: string;
  /** The pass's new offset; the base and all other passes stay as they are. */
  readonly stops120: number;
  readonly factor: number;
  /** What the factor makes of the pass's time. */
  readonly doseMs: number;
  readonly because: string;
}

/**
 * Changes the filter of one pass and carries the factor along in the pass's own offset, so that neither the
 * base nor any other pass moves. A base pass moves by log2(factor) stops; a burn of s stops adds 2^s - 1 of
 * the base, and it is this addition that the factor multiplies.
 * @throws FilterError for a filter that is not in the table, or an offset beyond ten stops.
 */
export function changeFilter(
  planner: Planner,
  table: FilterTable,
  baseMs: number,
  pass: FilteredPass,
  to: string,
): FilterChange {
  const factor = filterFactor(table, pass.filter, to);
  const beforeMs = timeOf(planner, baseMs, pass);
  if (beforeMs === undefined) throw new FilterError('the pass has no time to change; check the recipe first');
  const wantedMs = Math.round(beforeMs * factor);
  const totalMs = pass.kind === 'base' ? wantedMs : baseMs + wantedMs;
  if (wantedMs < 1 || totalMs > limits.longestDoseMs) throw beyond(to, wantedMs);
  const stops120 =
    wholeOffset120(planner, baseMs, pass.kind, beforeMs * factor, factor) ??
    planner.offset120(pass.kind, baseMs, wantedMs);
  if (stops120 === undefined) throw beyond(to, wantedMs);
  const because = `${filterText(pass.filter)} to ${filterText(to)}: time x ${Number(factor.toPrecision(4))} (${factorSource(table, pass.filter, to)})`;
  const doseMs = timeOf(planner, baseMs, { kind: pass.kind, stops120 }) ?? wantedMs;
  return { filter: filterEntry(table, to).filter, stops120, factor, doseMs, because };
}

/** Both times are rounded, so whole 1/120 stop are meant where they give the time as far as that tells: +1/3 doubled is +1 1/3. */
function wholeOffset120(
  planner: Planner,
  baseMs: number,
  kind: FilteredPass['kind'],
  exactMs: number,
  factor: number,
): number | undefined {
  const totalMs = kind === 'base' ? exactMs : baseMs + exactMs;
  const stops120 = planner.stopsBetween120(baseMs, Math.max(1, Math.round(totalMs)));
  if (Math.abs(stops120) > limits.offsetStops120) return undefined;
  const doseMs = timeOf(planner, baseMs, { kind, stops120 });
  return doseMs !== undefined && Math.abs(doseMs - exactMs) <= (factor + 1) / 2 ? stops120 : undefined;
}

function timeOf(
  planner: Planner,
  baseMs: number,
  { kind, stops120 }: Omit<FilteredPass, 'filter'>,
): number | undefined {
  return kind === 'base' ? planner.timeAtStopsMs(baseMs, stops120) : planner.burnMs(baseMs, stops120);
}

function beyond(filter: string, wantedMs: number): FilterError {
  return new FilterError(
    `with ${filterText(filter)} the pass would take ${(wantedMs / 1000).toFixed(3)} s, which cannot be written as an ` +
      `offset of up to ${limits.offsetStops120 / limits.stopParts} stops; change the lens stop as well`,
  );
}
