import { filterName } from '../../recipe/recipe-file.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { commonFilterTable, knownFilter } from '../filters/filter-table.js';

/**
 * Through what a strip was exposed: as a person says, else by the log.
 * @param said undefined where nobody said it.
 * @param inLog undefined or empty where the log does not say it: a sheet without a filter's name may have had any.
 * @throws UnreadableText where neither says it.
 */
export function stripFilter(said: string | undefined, inLog: string | undefined): string {
  if (said !== undefined) return readFilter(said);
  if (inLog !== undefined && inLog !== '') return inLog;
  throw new UnreadableText("say through what the strip was exposed, such as 2, or 'none'");
}

function readFilter(text: string): string {
  const known = knownFilter(commonFilterTable, text)?.filter;
  if (known !== undefined) return known;
  const own = filterName.safeParse(text.trim());
  if (own.success && own.data !== '') return own.data;
  throw new UnreadableText(`'${text}' is no filter: write at most 8 letters, such as 2 1/2, or 'none'`);
}
