import { commonFilterTable, knownFilter } from '../daylight/filters/filter-table.js';
import { filterName } from '../recipe/recipe-file.js';
import { UnreadableText } from '../recipe/text/unreadable-text.js';
import { readOption } from './read-options.js';
import type { KnownStrip } from './scanned-strip.js';
import { UsageError } from './usage-error.js';

/** Through what a strip was exposed: as typed, else by the log. @throws UsageError where neither says it. */
export function filterOfStrip({ filter }: KnownStrip, typed: string | undefined): string {
  if (typed !== undefined) return readOption('--filter', typed, readFilter);
  if (filter !== undefined) return filter;
  throw new UsageError("--filter: say through what the strip was exposed, such as 2, or 'none'");
}

function readFilter(text: string): string {
  const known = knownFilter(commonFilterTable, text)?.filter;
  if (known !== undefined) return known;
  const own = filterName.safeParse(text.trim());
  if (own.success && own.data !== '') return own.data;
  throw new UnreadableText(`'${text}' is no filter: write at most 8 letters, such as 2 1/2, or 'none'`);
}
