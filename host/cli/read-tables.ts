import { readFile } from 'node:fs/promises';
import { commonPaper, Paper } from '../darkroom/paper/paper.js';
import { readPaper } from '../darkroom/paper/paper-file.js';
import { type GradeTable, gradeTableSchema, standardGrades } from '../daylight/contrast/grade-table.js';
import { commonFilterTable, type FilterTable, readFilterTable } from '../daylight/filters/filter-table.js';
import { UsageError } from './usage-error.js';

/** The printer's own filters, or the common ones. */
export async function filtersFrom(path: string | undefined): Promise<FilterTable> {
  return path === undefined ? commonFilterTable : readFilterTable(await readFile(path, 'utf8'));
}

/** The printer's own paper, or a common one. */
export async function paperFrom(path: string | undefined): Promise<Paper> {
  return new Paper(path === undefined ? commonPaper : readPaper(await readFile(path, 'utf8')));
}

/** The printer's own grades, or those of the standard's ranges. */
export async function gradesFrom(path: string | undefined): Promise<GradeTable> {
  if (path === undefined) return standardGrades;
  const read = gradeTableSchema.safeParse(parse(path, await readFile(path, 'utf8')));
  if (read.success) return read.data;
  const problems = read.error.issues.map(({ path: place, message }) => `${place.join('.')}: ${message}`);
  throw new UsageError(`${path} is no table of grades:\n${problems.join('\n')}`);
}

function parse(path: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new UsageError(`${path} is not JSON: ${(error as Error).message}`);
  }
}
