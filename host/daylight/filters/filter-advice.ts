import { formatStops } from '../../recipe/index.js';
import type { Planner, RecipePlan } from '../../recipe/planner/index.js';
import type { Advice } from '../advice.js';
import { type FilterTable, filterFactor, filterText, isSameFilter, knownFilter } from './filter-table.js';

type Pass = RecipePlan['passes'][number];

/**
 * What stands out in a recipe's filters. A filter is a name to the board, so one that no table has can be printed; but
 * nothing can be worked out with it. A burn's stops are of the base, in seconds: another filter than the base's needs
 * its factor on top.
 */
export function filterAdvice(planner: Planner, table: FilterTable, plan: RecipePlan): Advice[] {
  const base = plan.passes.find(({ kind }) => kind === 'base');
  const burns = plan.passes.filter(({ kind }) => kind === 'burn');
  return [
    ...unknownFilters(table, plan),
    ...burns.flatMap((burn) =>
      base === undefined ? [] : burnAdvice(planner, table, plan, base.filter, burn),
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

function burnAdvice(
  planner: Planner,
  table: FilterTable,
  plan: RecipePlan,
  baseFilter: string,
  burn: Pass,
): Advice[] {
  if (isSameFilter(baseFilter, burn.filter)) return [];
  const seconds =
    `burn '${burn.label}': ${formatStops(burn.stops120)} is ${burn.doseMs / 1000} s, worked out for the base's ` +
    `${filterText(baseFilter)}; it is given through ${filterText(burn.filter)}`;
  if (!knownFilter(table, baseFilter) || !knownFilter(table, burn.filter))
    return [
      { kind: 'burn-filter', text: `${seconds}, and the table '${table.name}' has no factor for that` },
    ];
  const factor = filterFactor(table, baseFilter, burn.filter);
  const wantedMs = Math.round(
    (planner.burnMs(givenThroughMs(plan, baseFilter), burn.stops120) ?? burn.doseMs) * factor,
  );
  const stops120 = planner.offset120('burn', plan.baseMs, wantedMs);
  if (factor === 1 || stops120 === undefined || stops120 === burn.stops120) return [];
  const offer =
    `${takesWords(table, baseFilter, burn.filter)}, ${wantedMs / 1000} s: write ` +
    `${formatStops(stops120)} for as much light, unless the burn was found by trial through its own filter`;
  return [{ kind: 'burn-filter', text: `${seconds}. ${offer}` }];
}

function takesWords(table: FilterTable, from: string, to: string): string {
  const factor = Number(filterFactor(table, from, to).toPrecision(4));
  return table.factorSource === undefined
    ? `By the table '${table.name}' that filter takes x ${factor}`
    : `That filter takes x ${factor} (${table.factorSource(from, to)})`;
}

/**
 * What the sheet gets through the base's filter. A base whose filter was changed has the factor in its offset, and its
 * burns are right as they are.
 */
function givenThroughMs({ passes }: RecipePlan, filter: string): number {
  return passes
    .filter((pass) => pass.kind === 'base' && isSameFilter(pass.filter, filter))
    .reduce((sum, { doseMs }) => sum + doseMs, 0);
}
