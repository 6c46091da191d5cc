import { existsSync } from 'node:fs';
import { Option } from 'commander';
import { commonPaper, Paper, type PaperFigures } from '../darkroom/paper/paper.js';
import { readPaper } from '../darkroom/paper/paper-file.js';
import { commonFilterTable, type FilterTable, readFilterTable } from '../daylight/filters/filter-table.js';
import { filtersOfPaper, measuredFilters } from '../daylight/papers/measured-filters.js';
import { isSamePaper, type MeasuredPaper, papersOn } from '../daylight/papers/measured-paper.js';
import type { Recipe } from '../recipe/recipe.js';
import { profileNamed } from './profile-named.js';
import { readOwnFile } from './read-own-file.js';
import { cleanText } from './terminal/clean-text.js';
import { remark } from './terminal/print.js';
import { UsageError } from './usage-error.js';

/** Options of the commands that work with a paper. */
export interface PaperInUseOptions {
  readonly paper?: string;
  readonly developer?: string;
  readonly archive?: string;
}

export const paperOption = () =>
  new Option(
    '--paper <paper>',
    "your own paper: as 'treadle paper' lists it, or a file ('treadle schema paper' says how); by default the recipe's, where it was measured, else a common one",
  );
export const developerOption = () =>
  new Option('--developer <words>', 'the developer of the paper that was measured; by default the last');

/** The paper that is worked with, and how it is known. */
export interface PaperInUse {
  readonly figures: PaperFigures;
  readonly filters: FilterTable;
  /** Undefined where its figures are common practice, or of a file. */
  readonly measured: MeasuredPaper | undefined;
}

const common: PaperInUse = { figures: commonPaper, filters: commonFilterTable, measured: undefined };

/** @param ofRecipe the paper that the recipe names, empty for none. */
export async function paperInUse(options: PaperInUseOptions, ofRecipe = ''): Promise<PaperInUse> {
  const { paper } = options;
  if (paper !== undefined && isFile(paper)) {
    const figures = new Paper(await readOwnFile(paper, '--paper', readPaper)).figures;
    return { figures, filters: filtersOfPaper(figures), measured: undefined };
  }
  const measured =
    paper === undefined
      ? await measuredIfAny(ofRecipe, options)
      : await measuredNamed('--paper', paper, options);
  return measured === undefined
    ? common
    : { figures: measured.figures, filters: measuredFilters(measured), measured };
}

/** The printer's own filter table, else those of the paper. */
export async function filtersInUse(
  options: PaperInUseOptions & { readonly filters?: string },
  ofRecipe = '',
): Promise<FilterTable> {
  if (options.filters !== undefined) return readOwnFile(options.filters, '--filters', readFilterTable);
  return (await paperInUse(options, ofRecipe)).filters;
}

export function filtersOf({ passes }: Recipe): string[] {
  return passes.map(({ filter }) => filter);
}

function isFile(paper: string): boolean {
  return /[\\/]|\.json$/i.test(paper) || existsSync(paper);
}

/** @throws NoProfileError, UsageError */
export async function measuredNamed(
  option: string,
  paper: string,
  { developer, archive }: PaperInUseOptions,
): Promise<MeasuredPaper> {
  const { isArchiveThere, readArchive } = await import('../records/archive/read-archive.js');
  if (!isArchiveThere(archive))
    throw new UsageError(
      `${option}: '${paper}' is no file, and there is no archive yet in which a paper could be: 'treadle paper add' reads the scan of a strip`,
    );
  await using reader = await readArchive(archive);
  return await profileNamed(reader, paper, developer === undefined ? {} : { developer });
}

/** What a recipe only happens to name need not be there; an archive that cannot be read is said and does not stop the work. */
async function measuredIfAny(paper: string, options: PaperInUseOptions): Promise<MeasuredPaper | undefined> {
  if (paper.trim() === '') return undefined;
  try {
    const { isArchiveThere, readArchive } = await import('../records/archive/read-archive.js');
    if (!isArchiveThere(options.archive)) return undefined;
    await using reader = await readArchive(options.archive);
    const name = (await papersOn(reader)).findLast((each) => isSamePaper(each.paper, paper))?.paper;
    if (name === undefined) return undefined;
    return await profileNamed(
      reader,
      name,
      options.developer === undefined ? {} : { developer: options.developer },
    );
  } catch (error) {
    if (options.developer !== undefined || !(error instanceof Error)) throw error;
    remark(cleanText(`What was measured of '${paper}' is not used: ${error.message}`));
    return undefined;
  }
}
