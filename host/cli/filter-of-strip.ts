import { stripFilter } from '../daylight/papers/strip-filter.js';
import { readOption } from './read-options.js';
import type { KnownStrip } from './scanned-strip.js';

/** Through what a strip was exposed: as typed, else by the log. @throws UsageError where neither says it. */
export function filterOfStrip({ filter }: KnownStrip, typed: string | undefined): string {
  return readOption('--filter', typed ?? '', () => stripFilter(typed, filter));
}
