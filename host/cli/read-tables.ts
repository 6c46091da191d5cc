import { type GradeTable, readGradeTable, standardGrades } from '../daylight/contrast/grade-table.js';
import { commonFilterTable, type FilterTable, readFilterTable } from '../daylight/filters/filter-table.js';
import { readOwnFile } from './read-own-file.js';

/** The printer's own filters, or the common ones. */
export async function filtersFrom(path: string | undefined): Promise<FilterTable> {
  return path === undefined ? commonFilterTable : readOwnFile(path, '--filters', readFilterTable);
}

/** The printer's own grades, or those of the standard's ranges. */
export async function gradesFrom(path: string | undefined): Promise<GradeTable> {
  return path === undefined ? standardGrades : readOwnFile(path, '--grades', readGradeTable);
}
