import { formatStops } from '../../recipe/index.js';
import type { Planner, RecipePlan } from '../../recipe/planner/index.js';
import type { Advice } from '../advice.js';
import { type FilterTable, filterFactor, filterText, isSameFilter, knownFilter } from './filter-table.js';

type Pass = RecipePlan['passes'][number];

/**
 * What stands out in a recipe's filters. A filter is a name to the board, so one that no table has can be printed; but
 * nothing can be reckoned with it. A burn's stops are of the base, in seconds: another filter than the base's needs
 * its factor on top.
 */
export function filterAdvice(planner: Planner, table: FilterTable, plan: RecipePlan): Advice[] {
  const base = plan.passes.find(({ kind }) => kind === 'base');
  const burns = plan.passes.filter(({ kind }) => kind === 'burn');
  return [
    ...unknownFilters(table, plan),
    ...burns.flatMap((burn) =>
      base === undefined ? [] : burnAdvice(planner, table, plan.baseMs, base, burn),
    ),
  ];
}

function unknownFilters(table: FilterTable, { passes }: RecipePlan): Advice[] {
  const unknown = new Set(passes.map(({ filter }) => filter).filter((each) => !knownFilter(table, each)));
  const known = table.filters.map(({ filter }) => filterText(filter)).join(', ');
  return [...unknown].map((filter) => ({
    kind: 'unknown-filter',
    text:
      `${filterText(filter)} is not in the table '${table.name}', which has ${known}; it can be printed, but no time ` +
      'worked out for it: correct it, or give a filter table of your own',
  }));
}

function burnAdvice(planner: Planner, table: FilterTable, baseMs: number, base: Pass, burn: Pass): Advice[] {
  if (isSameFilter(base.filter, burn.filter)) return [];
  const seconds =
    `burn '${burn.label}': ${formatStops(burn.stops120)} is ${burn.doseMs / 1000} s, reckoned for the base's ` +
    `${filterText(base.filter)}; it is given through ${filterText(burn.filter)}`;
  if (!knownFilter(table, base.filter) || !knownFilter(table, burn.filter))
    return [
      { kind: 'burn-filter', text: `${seconds}, and the table '${table.name}' has no factor for that` },
    ];
  const factor = filterFactor(table, base.filter, burn.filter);
  return factor === 1
    ? []
    : [{ kind: 'burn-filter', text: `${seconds}. ${offer(planner, table, baseMs, burn, factor)}` }];
}

function offer(planner: Planner, table: FilterTable, baseMs: number, burn: Pass, factor: number): string {
  const wantedMs = Math.round(burn.doseMs * factor);
  const stops = formatStops(planner.stopsBetween120(baseMs, baseMs + wantedMs));
  return (
    `By the table '${table.name}' that filter takes x ${Number(factor.toPrecision(4))}, ${wantedMs / 1000} s: write ${stops} ` +
    'for as much light, unless the burn was found by trial through its own filter'
  );
}
