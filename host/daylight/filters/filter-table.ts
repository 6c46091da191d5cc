import { z } from 'zod';
import { text } from '../../../shared-protocol/wire-types.js';
import { isoBounds } from '../../darkroom/paper/iso-6846.js';
import { InputError } from '../../errors.js';
import { readBySchema } from '../../recipe/reading/read-by-schema.js';

/**
 * A printer's own table of filters: how much longer each takes, and the paper's ISO range through it. Factors
 * belong to one set of filters, one paper and one lamp; measure them where it matters.
 */
export const filterTableSchema = z
  .strictObject({
    $schema: z.string().optional().describe('Where this schema lies, for editors.'),
    name: z.string().min(1).max(80),
    toneHeld: z
      .enum(['highlights', 'middle', 'shadows'])
      .default('middle')
      .describe('The tone that stays the same when filters are changed by their factors.'),
    filters: z
      .array(
        z.strictObject({
          filter: text(8, 24).describe('As on the filter; empty for none.'),
          factor: z
            .number()
            .min(0.05)
            .max(100)
            .describe("Times are multiplied by this, against the table's other filters."),
          rangeR: z
            .number()
            .min(isoBounds.rangeR.min)
            .max(isoBounds.rangeR.max)
            .optional()
            .describe('ISO R of the paper through it, where known.'),
        }),
      )
      .min(1)
      .max(40),
  })
  .refine(({ filters }) => new Set(filters.map(({ filter }) => filter)).size === filters.length, {
    message: 'each filter may be in the table once',
    path: ['filters'],
  })
  .describe('A set of filters: how much longer each takes.');

export type FilterTable = z.output<typeof filterTableSchema> & Sources;
export type FilterEntry = FilterTable['filters'][number];

/** Where the figures of a table come from, in words, when that is not one place for all: not in a file. */
interface Sources {
  readonly factorSource?: (from: string, to: string) => string;
  readonly rangeSource?: (filter: string) => string;
}

/** Where the factor from one filter to another comes from. */
export function factorSource(table: FilterTable, from: string, to: string): string {
  return table.factorSource?.(from, to) ?? `table '${table.name}'`;
}

/**
 * A start, not a fact about anybody's paper. Filters to 3 1/2 take the same time and 4 to 5 twice it (common practice);
 * no filter at all takes half (US Navy NAVEDTRA 14209, chapter 11). Ranges: invented, those of the common paper.
 */
export const commonFilterTable: FilterTable = {
  name: 'common filters',
  toneHeld: 'middle',
  filters: [
    { filter: '', factor: 0.5, rangeR: 110 },
    { filter: '00', factor: 1, rangeR: 170 },
    { filter: '0', factor: 1, rangeR: 150 },
    { filter: '1', factor: 1, rangeR: 130 },
    { filter: '1 1/2', factor: 1, rangeR: 120 },
    { filter: '2', factor: 1, rangeR: 110 },
    { filter: '2 1/2', factor: 1, rangeR: 100 },
    { filter: '3', factor: 1, rangeR: 90 },
    { filter: '3 1/2', factor: 1, rangeR: 80 },
    { filter: '4', factor: 2, rangeR: 70 },
    { filter: '4 1/2', factor: 2, rangeR: 60 },
    { filter: '5', factor: 2, rangeR: 50 },
  ],
};

/** A filter that is not in the table. */
export class FilterError extends InputError {
  override readonly name = 'FilterError';
}

/** Reads a table from its JSON file. @throws FileError with every problem, each with its place. */
export function readFilterTable(bytes: Uint8Array | string): FilterTable {
  return readBySchema(bytes, filterTableSchema);
}

/** The filter of the table that is meant, however its half number or 'none' is spelled. @throws FilterError */
export function filterEntry(table: FilterTable, filter: string): FilterEntry {
  const entry = knownFilter(table, filter);
  if (entry !== undefined) return entry;
  const known = table.filters.map((each) => filterText(each.filter)).join(', ');
  throw new FilterError(`${filterText(filter)} is not in the table '${table.name}', which has ${known}`);
}

export function knownFilter(table: FilterTable, filter: string): FilterEntry | undefined {
  return (
    table.filters.find((each) => each.filter === filter) ??
    table.filters.find((each) => isSameFilter(each.filter, filter))
  );
}

/** '2.5', '2\u00bd' and '2-1/2' are '2 1/2'; 'none' and '-' are no filter. */
export function isSameFilter(one: string, other: string): boolean {
  return spelling(one) === spelling(other);
}

const NO_FILTER = ['none', 'no filter', '-'];

function spelling(filter: string): string {
  const small = filter.trim().toLowerCase();
  return NO_FILTER.includes(small) ? '' : small.replace(/^(\d+)(?:\.5|\s*\u00bd|[\s-]+1\/2)$/, '$1 1/2');
}

/** What a time is multiplied by when the filter is changed. @throws FilterError */
export function filterFactor(table: FilterTable, from: string, to: string): number {
  return filterEntry(table, to).factor / filterEntry(table, from).factor;
}

export function filterText(filter: string): string {
  return isSameFilter(filter, '') ? 'no filter' : `filter ${filter}`;
}
